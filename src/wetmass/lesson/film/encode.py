"""Pictures into a film by ffmpeg: the one on the PATH, else the one that imageio-ffmpeg brings."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterable
from pathlib import Path

ENDINGS = (".mp4", ".webm", ".gif")
_HOW = {
    ".mp4": "-c:v libx264 -preset medium -crf 18 -pix_fmt yuv420p -movflags +faststart",
    ".webm": "-c:v libvpx-vp9 -b:v 0 -crf 32 -row-mt 1 -deadline good -cpu-used 4 -pix_fmt yuv420p",
    ".gif": "-filter_complex fps=12,scale=960:-2:flags=lanczos,split[a][b];"
    "[a]palettegen=stats_mode=diff[p];[b][p]paletteuse",
}


class NoEncoder(Exception):
    """There is no ffmpeg; the words say how to get one."""


def encoder() -> str:
    """The ffmpeg to use.  Raises NoEncoder."""
    found = shutil.which("ffmpeg")
    if found is not None:
        return found
    try:
        import imageio_ffmpeg

        return imageio_ffmpeg.get_ffmpeg_exe()
    except (ImportError, RuntimeError):
        raise NoEncoder(
            "a film is put together by ffmpeg, which is not there; install it, or run "
            "`pip install 'wetmass[video]'`, which brings one"
        ) from None


def encoded(pictures: Iterable[bytes], rate: int, target: Path) -> None:
    """Write PNGs as a film; its kind is that of the ending.

    rate  pictures a second
    Raises NoEncoder, ValueError for another ending, OSError with what ffmpeg says when it fails.
    """
    ending = target.suffix.lower()
    if ending not in _HOW:
        raise ValueError(f"a film ends in {', '.join(ENDINGS)}, got {target.name!r}")
    command = [
        encoder(), "-y", "-loglevel", "error", "-f", "image2pipe", "-framerate", str(rate), "-c:v", "png",
        "-i", "-", *_HOW[ending].split(), str(target),
    ]  # fmt: skip
    with subprocess.Popen(command, stdin=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdin is not None and running.stderr is not None
        try:
            for picture in pictures:
                running.stdin.write(picture)
            running.stdin.close()
        except BrokenPipeError:
            pass  # it has said why by then
        words = running.stderr.read().decode(errors="replace").strip()
    if running.returncode:
        raise OSError(f"ffmpeg could not write {target}: {words or running.returncode}")
