"""The commands that ask what if, how sure and how far, and the options they share."""

from __future__ import annotations

from typing import Annotated

import typer

from wetmass.cli.commands import APP

_FILE = typer.Argument(metavar="FILE", help="The concept, such as examples/dunlin.yaml.")
_SET = typer.Option(
    "--set", metavar="CHANGE", help='Change a value first, as in "first, dry mass = 8 t"; again for more.'
)
_JSON = typer.Option("--json", help="Print the whole record as JSON, in SI.")
_CHART = typer.Option(
    "--chart", metavar="FILE", help="Write the picture as .svg, .png, .html or .json (Vega-Lite)."
)
_TABLE = typer.Option("--table", metavar="FILE", help="Write the points as .csv or .parquet, in SI.")
_STORE = typer.Option(
    "--store", metavar="FILE", help="Keep results here as they come; the same command goes on from there."
)
_WORKERS = typer.Option(
    "--workers", metavar="N", min=0, max=1024, help="Processes to work with; every core without it."
)
_CLUSTER = typer.Option(
    "--cluster", metavar="ADDRESS", help="Work on a Dask cluster, as in tcp://10.0.0.5:8786."
)
_SHOW = typer.Option("--show", metavar="NAME", help="Which number to show, such as lift-off mass.")


@APP.command()
def vary(
    file: Annotated[str, _FILE],
    inputs: Annotated[
        list[str],
        typer.Argument(
            metavar="INPUT ...",
            help='One input or two with their values: "first, dry mass = 6 to 9 t in 7", "second isp = 360 s, 365 s".',
        ),
    ],
    show: Annotated[str, _SHOW] = "payload",
    form: Annotated[
        str, typer.Option("--form", metavar="FORM", help="Picture of two inputs: contour or carpet.")
    ] = "contour",
    set_: Annotated[list[str] | None, _SET] = None,
    json: Annotated[bool, _JSON] = False,
    chart: Annotated[str | None, _CHART] = None,
    table: Annotated[str | None, _TABLE] = None,
    store: Annotated[str | None, _STORE] = None,
    workers: Annotated[int | None, _WORKERS] = None,
    cluster: Annotated[str | None, _CLUSTER] = None,
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
    show: Annotated[str, _SHOW] = "payload",
    set_: Annotated[
        list[str] | None,
        typer.Option(
            "--set",
            metavar="CHANGES",
            help='A variant of the first, as in "first, dry mass = 8 t; second isp = 370 s".',
        ),
    ] = None,
    json: Annotated[bool, _JSON] = False,
    chart: Annotated[str | None, _CHART] = None,
    table: Annotated[str | None, _TABLE] = None,
    store: Annotated[str | None, _STORE] = None,
) -> None:
    """Put concepts or variants side by side: what differs in them first, then what comes of it.

    Exit status: 0 all close, 1 one does not, 2 refused.
    """
    from wetmass.cli.studies import Options
    from wetmass.cli.varying import compare as compared

    options = Options(json, chart, table, store, changes=set_ or ())
    raise typer.Exit(compared(files, options, what=show))


_GUESS = typer.Option(
    "--guess", metavar="GUESS", help='A spread beside those of the file, as in "second isp = ± 1 %".'
)
_SEED = typer.Option("--seed", metavar="N", min=0, help="Where the draws begin.")


@APP.command()
def worth(
    file: Annotated[str, _FILE],
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
    guess: Annotated[list[str] | None, _GUESS] = None,
    seed: Annotated[int, _SEED] = 20261125,
    set_: Annotated[list[str] | None, _SET] = None,
    json: Annotated[bool, _JSON] = False,
    chart: Annotated[str | None, _CHART] = None,
    table: Annotated[str | None, _TABLE] = None,
    store: Annotated[str | None, _STORE] = None,
    workers: Annotated[int | None, _WORKERS] = None,
    cluster: Annotated[str | None, _CLUSTER] = None,
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
    file: Annotated[str, _FILE],
    samples: Annotated[
        int, typer.Option("--samples", metavar="N", help="How many draws; powers of two cover best.")
    ] = 256,
    guess: Annotated[list[str] | None, _GUESS] = None,
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
    seed: Annotated[int, _SEED] = 20261125,
    set_: Annotated[list[str] | None, _SET] = None,
    json: Annotated[bool, _JSON] = False,
    chart: Annotated[str | None, _CHART] = None,
    table: Annotated[str | None, _TABLE] = None,
    store: Annotated[str | None, _STORE] = None,
    workers: Annotated[int | None, _WORKERS] = None,
    cluster: Annotated[str | None, _CLUSTER] = None,
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
    file: Annotated[str, _FILE],
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
    set_: Annotated[list[str] | None, _SET] = None,
    json: Annotated[bool, _JSON] = False,
    chart: Annotated[str | None, _CHART] = None,
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
    file: Annotated[str, _FILE],
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
    set_: Annotated[list[str] | None, _SET] = None,
    json: Annotated[bool, _JSON] = False,
    chart: Annotated[str | None, _CHART] = None,
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
