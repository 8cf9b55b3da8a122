"""The page's scripts hold to their own types.  Needs npm, which fetches the type checker once into a cache."""

import json
import os
import shutil
import subprocess
from pathlib import Path

TYPESCRIPT = "5.9.3"
STATIC = Path("src/wetmass/app/static").resolve()
OPTIONS = {
    "checkJs": True, "allowJs": True, "noEmit": True, "strict": True, "target": "es2022", "module": "es2022",
    "moduleResolution": "bundler", "lib": ["es2023", "dom", "dom.iterable"], "types": [],
}  # fmt: skip


def checker():
    """The type checker, from the cache or through npm."""
    cache = (
        Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
        / "wetmass-tests"
        / f"typescript-{TYPESCRIPT}"
    )
    script = cache / "node_modules" / "typescript" / "bin" / "tsc"
    if not script.exists():
        npm = shutil.which("npm")
        assert npm, (
            "the scripts' types are checked by TypeScript, which npm brings; on Debian: apt-get install npm"
        )
        cache.mkdir(parents=True, exist_ok=True)
        done = subprocess.run(
            [npm, "install", "--no-audit", "--no-fund", "--prefix", str(cache), f"typescript@{TYPESCRIPT}"],
            capture_output=True, text=True, timeout=300,
        )  # fmt: skip
        assert done.returncode == 0, f"npm could not bring typescript@{TYPESCRIPT}: {done.stderr[-2000:]}"
    return script


def checked(folder, files):
    project = folder / "tsconfig.json"
    project.write_text(
        json.dumps({"compilerOptions": OPTIONS, "files": [str(file) for file in files]}), encoding="utf-8"
    )
    return subprocess.run(
        [shutil.which("node"), str(checker()), "-p", str(project)], capture_output=True, text=True
    )


def test_the_scripts_hold_to_their_types(tmp_path):
    done = checked(tmp_path, sorted(STATIC.glob("*.js")))
    assert done.returncode == 0, done.stdout


def test_the_check_sees_a_wrong_type(tmp_path):
    wrong = tmp_path / "wrong.js"
    wrong.write_text(
        "/** @param {number} one */\nexport const twice = (one) => one * 2;\ntwice('a');\n", encoding="utf-8"
    )
    done = checked(tmp_path, [wrong])
    assert "TS2345" in done.stdout


def test_every_script_is_this_package_s_own():
    for file in STATIC.glob("*"):
        text = file.read_text(encoding="utf-8")
        text = text.replace("http://www.w3.org/2000/svg", "")
        assert "//cdn" not in text, file
        assert "http://" not in text, file
        assert "https://" not in text, file
        assert "innerHTML" not in text, file
        assert "eval(" not in text, file
