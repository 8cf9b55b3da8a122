"""The commands and their options; what they do is in the files beside this one."""

from __future__ import annotations

from typing import Annotated

import typer

APP = typer.Typer(
    name="wetmass",
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)

File = Annotated[str, typer.Argument(metavar="FILE", help="The concept, such as examples/dunlin.yaml.")]
Json = Annotated[
    bool, typer.Option("--json", help="Print the whole record as JSON, in SI (docs/json-keys.md).")
]


def _version(asked: bool) -> None:
    if asked:
        import wetmass

        typer.echo(f"wetmass {wetmass.__version__}")
        raise typer.Exit


@APP.callback()
def front(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Say the version, and stop.")
    ] = False,
) -> None:
    """Size a launch vehicle from a concept, fly it with real losses, and read what comes of it.

    Exit status: 0 it closes, 1 it does not, 2 the file or the command cannot be taken as it stands,
    3 a defect in the program.
    """


@APP.command()
def fly(
    file: File,
    json: Json = False,
    csv: Annotated[
        str | None,
        typer.Option(
            "--csv", metavar="FILE", help='Write the trajectory as CSV; "-" prints it, and nothing else.'
        ),
    ] = None,
    quiet: Annotated[
        bool, typer.Option("--quiet", "-q", help="Print the verdict alone, no progress.")
    ] = False,
) -> None:
    """Close the sizing loop of a concept, fly it to orbit, and print what was found."""
    from wetmass.cli.flying import fly as flown

    if csv == "-" and json:
        raise typer.BadParameter(
            "both would print on the same output: name a file for the CSV", param_hint="--csv"
        )
    raise typer.Exit(flown(file, as_json=json, csv=csv, quiet=quiet))


@APP.command()
def home(
    file: File,
    tracks: Annotated[
        str | None,
        typer.Option(
            "--tracks",
            metavar="OUT",
            help="Write the tracks up and down: a .geojson or .kml, or a folder (out/) for both, with a CCSDS OEM "
            "and a CSV of each flight.",
        ),
    ] = None,
    lift_off: Annotated[
        str | None,
        typer.Option("--lift-off", metavar="MOMENT", help='For the OEM, such as "2027-03-20T12:30Z".'),
    ] = None,
    falls: Annotated[
        int,
        typer.Option(
            "--falls", metavar="N", min=10, max=100_000, help="How often a fall is drawn by chance."
        ),
    ] = 400,
    seed: Annotated[
        int, typer.Option("--seed", metavar="S", min=0, help="Which draw; the same gives the same falls.")
    ] = 1,
    json: Json = False,
) -> None:
    """Fly every stage down that is let go, and find what it must keep to come home.

    Exit status: 0 every stage comes down as it should, 1 one does not, or it does not close.
    """
    from wetmass.cli.coming_home import home as brought

    raise typer.Exit(brought(file, tracks=tracks, lift_off=lift_off, as_json=json, falls=falls, seed=seed))


@APP.command()
def check(
    script: Annotated[
        str, typer.Argument(metavar="SCRIPT", help="A Markdown or text file with lines of working.")
    ],
    concept: Annotated[
        str | None,
        typer.Option(
            "--concept", metavar="FILE", help="Hold the lines against this concept, closed and flown."
        ),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print verdicts and slips as JSON, in SI.")] = False,
    annotated: Annotated[
        str | None,
        typer.Option(
            "--annotated", metavar="OUT.md", help="Write a copy of the script with the notes in it."
        ),
    ] = None,
) -> None:
    """Check a hand working line by line: right, off with the likely slip, or unclear.

    Exit status: 0 every line holds, 1 something asks for a second look, 2 refused.
    """
    from wetmass.cli.checking import check as checked

    raise typer.Exit(checked(script, concept=concept, as_json=json, out=annotated))


@APP.command()
def working(
    file: Annotated[
        str, typer.Argument(metavar="CONCEPT", help="The concept, such as examples/dunlin.yaml.")
    ],
    out: Annotated[
        str | None, typer.Option("--out", metavar="FILE", help="Write to this file; without it, print.")
    ] = None,
) -> None:
    """Write the steps of our own sizing as a working that `wetmass check` reads."""
    from wetmass.cli.checking import working as written

    raise typer.Exit(written(file, out=out))


@APP.command()
def lesson(
    file: File,
    out: Annotated[
        str, typer.Option("--out", metavar="DIR", help="The folder to write into; it is made if need be.")
    ] = ".",
    pdf: Annotated[bool, typer.Option("--pdf", help="Write it on paper too: A4, tagged.")] = False,
    frames: Annotated[
        str | None,
        typer.Option("--frames", metavar="DIR", help="Write one step or picture a frame, as PNG."),
    ] = None,
    svg: Annotated[bool, typer.Option("--svg", help="Write each frame as SVG too.")] = False,
    only: Annotated[
        list[str] | None,
        typer.Option(
            "--only", metavar="NAME", help="Only these frames or sections, such as step-3 or tanks."
        ),
    ] = None,
    film: Annotated[
        str | None,
        typer.Option("--film", metavar="FILE", help="Film the flight, up and home, as .mp4, .webm or .gif."),
    ] = None,
    seconds: Annotated[
        float, typer.Option("--seconds", min=2.0, max=600.0, help="How long the film lasts.")
    ] = 24.0,
    size: Annotated[
        str, typer.Option("--size", metavar="WxH", help="Of frames and film, in pixels.")
    ] = "1920x1080",
    light: Annotated[bool, typer.Option("--light", help="Frames and film on a light ground.")] = False,
    table: Annotated[
        list[str] | None,
        typer.Option(
            "--table",
            metavar="FILE",
            help="Write a workbook (.xlsx), or the flight as .csv, .parquet, .json.",
        ),
    ] = None,
) -> None:
    """Write the lesson of a concept: one page with drawings, charts and every step, needing no network."""
    from wetmass.cli.lesson import Wanted
    from wetmass.cli.lesson import lesson as written

    wanted = Wanted(out, pdf, frames, svg, tuple(only or ()), light, size, film, seconds, tuple(table or ()))
    raise typer.Exit(written(file, wanted))


@APP.command()
def app(
    file: Annotated[
        str,
        typer.Argument(
            metavar="FILE", help="The concept, such as examples/dunlin.yaml, or a folder of them."
        ),
    ],
    port: Annotated[int, typer.Option("--port", help="The port to listen on; 0 takes a free one.")] = 0,
    host: Annotated[
        str,
        typer.Option(
            "--host", metavar="ADDRESS", help="Where to listen: this machine alone, unless you say otherwise."
        ),
    ] = "127.0.0.1",
    quiet: Annotated[bool, typer.Option("--no-browser", help="Print the address, open nothing.")] = False,
) -> None:
    """Open a page on this machine to change a concept and see at once what comes of it.

    Files are opened and written only in the folder of FILE.
    """
    from wetmass.cli.opening import opened

    raise typer.Exit(opened(file, host=host, port=port, opens=not quiet))
