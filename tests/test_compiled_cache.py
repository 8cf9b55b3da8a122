"""Compiled code is kept under a key of its sources, and somewhere else where that cannot be written."""

import ast
from pathlib import Path

from wetmass.flight import compiled


def test_the_folder_is_keyed_by_every_source_file(tmp_path, monkeypatch):
    (tmp_path / "physics").mkdir()
    (tmp_path / "physics" / "one.py").write_text("x = 1\n", encoding="utf-8")
    monkeypatch.setattr(compiled, "PACKAGE", tmp_path)
    before = compiled.source_key()
    assert compiled.source_key() == before
    (tmp_path / "physics" / "one.py").write_text("x = 2\n", encoding="utf-8")
    changed = compiled.source_key()
    (tmp_path / "physics" / "one.py").rename(tmp_path / "physics" / "two.py")
    assert len({before, changed, compiled.source_key()}) == 3


def test_compiled_code_imports_no_room_outside_the_key():
    """So a change there cannot leave stale code behind."""
    compiling = [
        path
        for path in compiled.PACKAGE.rglob("*.py")
        if "@njit" in (text := path.read_text("utf-8")) or "@kernel" in text
    ]
    assert compiling
    for path in compiling:
        own = path.relative_to(compiled.PACKAGE).parts[0]
        imported = {
            node.module.split(".")[1]
            for node in ast.walk(ast.parse(path.read_text("utf-8")))
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("wetmass.")
        }
        assert {own} | imported <= set(compiled.COMPILED), path


def test_the_stated_folder_is_used(tmp_path, monkeypatch):
    monkeypatch.setenv("WETMASS_CACHE", str(tmp_path))
    assert compiled.cache_folder() == tmp_path / compiled.source_key()


def test_a_folder_that_cannot_be_written_is_not_used(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("WETMASS_CACHE", str(tmp_path / "file"))
    monkeypatch.setattr(compiled.tempfile, "gettempdir", lambda: str(tmp_path / "elsewhere"))
    folder = compiled.cache_folder()
    assert Path(folder).is_relative_to(tmp_path / "elsewhere") and folder.is_dir()
    # and where nothing can be written there is a fresh folder
    monkeypatch.setattr(compiled.tempfile, "gettempdir", lambda: str(tmp_path / "file"))
    monkeypatch.setattr(compiled.tempfile, "mkdtemp", lambda prefix: str(tmp_path / prefix))
    assert compiled.cache_folder() == tmp_path / "wetmass-"
