"""The commands that ask what if, how sure and how far, and the options they share."""

from __future__ import annotations

from typing import Annotated

import typer

from wetmass.cli.commands import APP, File

_Set = Annotated[
    list[str] | None,
    typer.Option(
        "--set", metavar="CHANGE", help='Change a value first, as in "first, dry mass = 8 t"; again for more.'
    ),
]
_Json = Annotated[bool, typer.Option("--json", help="Print the whole record as JSON, in SI.")]
_Chart = Annotated[
    str | None,
    typer.Option(
        "--chart", metavar="FILE", help="Write the picture as .svg, .png, .html or .json (Vega-Lite)."
    ),
]
_Table = Annotated[
    str | None,
    typer.Option("--table", metavar="FILE", help="Write the points as .csv or .parquet, in SI."),
]
_Store = Annotated[
    str | None,
    typer.Option(
        "--store", metavar="FILE", help="Keep results here as they come; the same command goes on from there."
    ),
]
_Workers = Annotated[
    int | None,
    typer.Option(
        "--workers", metavar="N", min=0, max=1024, help="Processes to work with; every core without it."
    ),
]
_Cluster = Annotated[
    str | None,
    typer.Option("--cluster", metavar="ADDRESS", help="Work on a Dask cluster, as in tcp://10.0.0.5:8786."),
]
_Show = Annotated[
    str, typer.Option("--show", metavar="NAME", help="Which number to show, such as lift-off mass.")
]


@APP.command()
def vary(
    file: File,
    inputs: Annotated[
        list[str],
        typer.Argument(
            metavar="INPUT ...",
            help='One input or two with their values: "first, dry mass = 6 to 9 t in 7", "second isp = 360 s, 365 s".',
        ),
    ],
    show: _Show = "payload",
    form: Annotated[
        str, typer.Option("--form", metavar="FORM", help="Picture of two inputs: contour or carpet.")
    ] = "contour",
    set_: _Set = None,
    json: _Json = False,
    chart: _Chart = None,
    table: _Table = None,
    store: _Store = None,
    workers: _Workers = None,
    cluster: _Cluster = None,
) -> None:
    """What if: put one input, or two, to several values, each point closed and made best.

    Exit status: 0 every point closes, 1 one does not, 2 refused.
    """
    from wetmass.cli.studies import Options
    from wetmass.cli.varying import vary as varied

    options = Options(json, chart, table, store, workers, cluster, set_ or ())
    raise typer.Exit(varied(file, inputs, options, what=show, form=form))


@APP.command()
def compare(
    files: Annotated[
        list[str],
        typer.Argument(metavar="FILE ...", help="Concepts, or small files of changes to the first."),
    ],
    show: _Show = "payload",
    set_: Annotated[
        list[str] | None,
        typer.Option(
            "--set",
            metavar="CHANGES",
            help='A variant of the first, as in "first, dry mass = 8 t; second isp = 370 s".',
        ),
    ] = None,
    json: _Json = False,
    chart: _Chart = None,
    table: _Table = None,
    store: _Store = None,
) -> None:
    """Put concepts or variants side by side: what differs in them first, then what comes of it.

    Exit status: 0 all close, 1 one does not, 2 refused.
    """
    from wetmass.cli.studies import Options
    from wetmass.cli.varying import compare as compared

    options = Options(json, chart, table, store, changes=set_ or ())
    raise typer.Exit(compared(files, options, what=show))


_Guess = Annotated[
    list[str] | None,
    typer.Option(
        "--guess", metavar="GUESS", help='A spread beside those of the file, as in "second isp = ± 1 %".'
    ),
]
_Seed = Annotated[int, typer.Option("--seed", metavar="N", min=0, help="Where the draws begin.")]


@APP.command()
def worth(
    file: File,
    names: Annotated[
        list[str] | None,
        typer.Argument(metavar="[NAME ...]", help="Numbers to weigh; all that are stated without them."),
    ] = None,
    check: Annotated[
        bool, typer.Option("--check", help="Hold each rate against two closings of its own.")
    ] = False,
    shares: Annotated[
        int | None,
        typer.Option(
            "--shares", metavar="DRAWS", help="Share the variance out among the guesses, from so many draws."
        ),
    ] = None,
    guess: _Guess = None,
    seed: _Seed = 20261125,
    set_: _Set = None,
    json: _Json = False,
    chart: _Chart = None,
    table: _Table = None,
    store: _Store = None,
    workers: _Workers = None,
    cluster: _Cluster = None,
) -> None:
    """What one unit more of each number is worth in payload, and whose spread it is."""
    from wetmass.cli.studies import Options
    from wetmass.cli.sureness import worth as weighed

    options = Options(json, chart, table, store, workers, cluster, set_ or ())
    raise typer.Exit(
        weighed(file, names or (), options, check=check, draws=shares, seed=seed, more=guess or ())
    )


@APP.command()
def spread(
    file: File,
    samples: Annotated[
        int, typer.Option("--samples", metavar="N", help="How many draws; powers of two cover best.")
    ] = 256,
    guess: _Guess = None,
    together: Annotated[
        list[str] | None,
        typer.Option(
            "--together",
            metavar="PAIR",
            help='Guesses that go together, "first, dry mass & second isp = 0.6".',
        ),
    ] = None,
    flights: Annotated[
        int | None,
        typer.Option(
            "--flights",
            metavar="N",
            help="Fly so many draws at the nominal steering too; a million is some time.",
        ),
    ] = None,
    gpu: Annotated[bool, typer.Option("--gpu", help="Fly those on a CUDA card (extra gpu).")] = False,
    seed: _Seed = 20261125,
    set_: _Set = None,
    json: _Json = False,
    chart: _Chart = None,
    table: _Table = None,
    store: _Store = None,
    workers: _Workers = None,
    cluster: _Cluster = None,
) -> None:
    """How sure: draw the guesses as their spreads say, and close every draw.

    Exit status: 0 every draw closes, 1 one does not, 2 refused.
    """
    from wetmass.cli.studies import Options
    from wetmass.cli.sureness import spread as studied

    options = Options(json, chart, table, store, workers, cluster, set_ or ())
    raise typer.Exit(
        studied(
            file,
            options,
            samples=samples,
            seed=seed,
            more=guess or (),
            together=together or (),
            flights=flights,
            on_gpu=gpu,
        )
    )


@APP.command()
def reach(
    file: File,
    to: Annotated[
        str | None,
        typer.Option("--to", metavar="DESTINATION", help='Only this one, such as "Moon orbit" or Mars.'),
    ] = None,
    payload: Annotated[
        str | None,
        typer.Option("--payload", metavar="MASS", help="Say what it would take to carry this much there."),
    ] = None,
    isp: Annotated[
        str | None,
        typer.Option("--isp", metavar="TIME", help="Specific impulse of the payload's own engine; 320 s."),
    ] = None,
    set_: _Set = None,
    json: _Json = False,
    chart: _Chart = None,
) -> None:
    """Send the vehicle elsewhere: payload to each destination, and against the energy to leave.

    Exit status: 0 it gets somewhere, 1 nowhere or not with that payload, 2 refused.
    """
    from wetmass.cli.reaching import reach as reached
    from wetmass.cli.studies import Options

    options = Options(json, chart, changes=set_ or ())
    raise typer.Exit(reached(file, options, to=to, payload=payload, isp=isp))


@APP.command()
def refuel(
    file: File,
    to: Annotated[
        str, typer.Option("--to", metavar="DESTINATION", help='Where to, such as "Moon surface" or Mars.')
    ],
    payload: Annotated[
        str, typer.Option("--payload", metavar="MASS", help='What is carried there, as in "2 t".')
    ],
    tanker: Annotated[
        str | None,
        typer.Option(
            "--tanker", metavar="FILE", help="The concept that brings propellant; the same without."
        ),
    ] = None,
    every: Annotated[
        str, typer.Option("--every", metavar="TIME", help="How often a tanker comes.")
    ] = "7 day",
    lost: Annotated[
        str, typer.Option("--lost", metavar="SHARE", help="Of what a tanker brings, lost in the transfer.")
    ] = "2 %",
    boil_off: Annotated[
        str | None,
        typer.Option(
            "--boil-off",
            metavar="SHARE",
            help="Of what is aboard, boiling away in a day; else the file's, or 0.1 %.",
        ),
    ] = None,
    failure: Annotated[
        str, typer.Option("--failure", metavar="SHARE", help="Chance that a tanker is lost.")
    ] = "3 %",
    seed: Annotated[
        int,
        typer.Option("--seed", metavar="N", min=0, help="Of the random failures; the same gives the same."),
    ] = 1,
    set_: _Set = None,
    json: _Json = False,
    chart: _Chart = None,
) -> None:
    """Refill the last stage in orbit: how many tankers, how long, and what it then carries.

    Exit status: 0 it can be filled and is enough, 1 it is not, 2 refused.
    """
    from wetmass.cli.refuelling import refuel as refuelled
    from wetmass.cli.studies import Options

    options = Options(json, chart, changes=set_ or ())
    raise typer.Exit(
        refuelled(
            file, options, to=to, payload=payload, tanker=tanker, every=every, lost=lost, boil_off=boil_off,
            failure=failure, seed=seed,
        )
    )  # fmt: skip
