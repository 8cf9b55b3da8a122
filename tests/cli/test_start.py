"""`import wetmass` and the help texts stay fast: what is heavy is imported when it is needed."""

import subprocess
import sys

import pytest

HEAVY = ("numpy", "scipy", "numba", "casadi", "pydantic", "ruamel", "pint", "rich")


def modules_after(code):
    """Names of the top-level modules that are loaded after `code` in a fresh Python."""
    script = f"{code}\nimport sys\nprint('|'.join(sorted(name.split('.')[0] for name in sys.modules)))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    return set(done.stdout.splitlines()[-1].split("|"))


def test_importing_the_package_imports_nothing_heavy():
    loaded = modules_after("import wetmass\nwetmass.load, wetmass.fly, wetmass.__version__")
    assert "wetmass" in loaded
    assert not loaded & set(HEAVY)


@pytest.mark.parametrize("arguments", [["--help"], ["--version"], ["fly", "--help"]])
def test_help_and_version_start_without_the_numerics(arguments):
    loaded = modules_after(
        f"import sys\nsys.argv = ['wetmass', *{arguments!r}]\n"
        "from wetmass.cli import main\ntry:\n    main()\nexcept SystemExit as end:\n    assert not end.code\n"
    )
    assert "typer" in loaded
    assert not loaded & {"numpy", "scipy", "numba", "casadi", "ruamel", "pint"}  # typer may ask for pydantic


def test_a_wrong_file_is_refused_without_the_numerics(tmp_path):
    loaded = modules_after(
        f"import sys\nsys.argv = ['wetmass', 'fly', {str(tmp_path / 'none.yaml')!r}]\n"
        "from wetmass.cli import main\n"
        "try:\n    main()\nexcept SystemExit as end:\n    assert end.code == 2\n"
    )
    assert not loaded & {"scipy", "numba", "casadi"}


def test_the_version_is_that_of_the_package():
    import tomllib
    from pathlib import Path

    import wetmass

    project = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8"))
    assert wetmass.__version__ == project["project"]["version"]


def test_other_names_are_refused():
    import wetmass

    with pytest.raises(AttributeError, match="no attribute 'land'"):
        _ = wetmass.land
