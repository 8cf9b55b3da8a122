"""The house: data flows one way, so a room imports only from rooms above it in DESIGN.md's table."""

import ast
import doctest
import importlib
import pkgutil
from pathlib import Path

import pytest

import wetmass
from wetmass.physics.pattern import KERNELS

PACKAGE = Path(wetmass.__file__).parent
# the table of rooms, top first; rooms on one line do not import each other's
ROOMS = (
    ("record",),
    ("physics",),
    ("concept",),
    ("vehicle",),
    ("flight",),
    ("closing",),
    ("study",),
    ("working",),
    ("findings",),
    ("lesson",),  # what commands and the local app show
    ("app",),
    ("cli",),  # one of its commands opens the page
)
RANK = {room: rank for rank, line in enumerate(ROOMS) for room in line}


def _room(module):
    parts = module.split(".")
    return parts[1] if parts[0] == "wetmass" and len(parts) > 1 else None


def _imports(path):
    """Modules of the package that a file imports, wherever in it, with the line."""
    module = ("wetmass", *path.relative_to(PACKAGE).with_suffix("").parts)
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            for name in node.names:
                yield name.name, node.lineno
        elif isinstance(node, ast.ImportFrom):
            base = ".".join(module[: -node.level]) if node.level else ""
            source = ".".join(part for part in (base, node.module or "") if part)
            yield source, node.lineno
            if source == "wetmass":
                for name in node.names:
                    yield f"wetmass.{name.name}", node.lineno


def arrows(path):
    """Imports of a file that point upward in the table, in words."""
    own = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
    if own not in RANK:  # the package's own front (`__init__`, `__main__`) may offer any room
        return
    for module, line in _imports(path):
        room = _room(module)
        if room in RANK and room != own and RANK[room] >= RANK[own]:
            yield f"{path.relative_to(PACKAGE.parent)}:{line}: {own} imports {room}, which is not above it"


def test_no_arrow_points_upward():
    found = [arrow for path in sorted(PACKAGE.rglob("*.py")) for arrow in arrows(path)]
    assert not found, "\n".join(found)


def test_every_folder_is_a_room_of_the_table():
    rooms = {path.name for path in PACKAGE.iterdir() if path.is_dir() and (path / "__init__.py").exists()}
    assert rooms <= set(RANK), f"not in DESIGN.md's table of rooms: {sorted(rooms - set(RANK))}"


@pytest.mark.parametrize(
    ("room", "line", "wrong"),
    [
        ("physics", "from wetmass.concept.model import Concept", True),
        ("physics", "import wetmass.flight.compiled", True),
        ("record", "def late():\n    from wetmass import physics", True),
        ("lesson", "from wetmass.cli import main", True),
        ("flight", "from wetmass.physics.earth import GM", False),
        ("flight", "from .compiled import CACHE", False),
        ("flight", "from ..closing import loop", True),
    ],
)
def test_the_rule_sees_an_arrow(tmp_path, monkeypatch, room, line, wrong):
    package = tmp_path / "wetmass"
    (package / room).mkdir(parents=True)
    (package / room / "made.py").write_text(line + "\n", encoding="utf-8")
    monkeypatch.setattr(f"{__name__}.PACKAGE", package)
    assert bool(list(arrows(package / room / "made.py"))) is wrong


def _documented_modules():
    for room in ("record", "physics"):
        package = importlib.import_module(f"wetmass.{room}")
        yield package.__name__
        yield from (found.name for found in pkgutil.walk_packages(package.__path__, package.__name__ + "."))


DOCUMENTED = list(_documented_modules())


@pytest.mark.parametrize("module", DOCUMENTED)
def test_examples_in_docstrings_run(module):
    found = doctest.testmod(importlib.import_module(module))
    assert found.failed == 0


def test_examples_are_found():
    from wetmass.physics import earth

    assert doctest.testmod(earth).attempted > 5


@pytest.mark.parametrize("module", DOCUMENTED)
def test_public_functions_say_what_they_are(module):
    loaded = importlib.import_module(module)
    for name, thing in vars(loaded).items():
        if any(thing is bare for bare in KERNELS):  # a bare formula: the relation over it is described
            continue
        if not name.startswith("_") and callable(thing) and getattr(thing, "__module__", None) == module:
            assert (thing.__doc__ or "").strip(), f"{module}.{name} has no description"


def test_every_test_file_has_a_name_of_its_own():
    """So pytest can load all of them in one run, and a name in a report says which."""
    names = [path.name for path in Path(__file__).parent.rglob("test_*.py")]
    assert not {name for name in names if names.count(name) > 1}
