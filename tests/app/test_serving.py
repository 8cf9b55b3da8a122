"""Where it listens, and what it says of that."""

import socket

import pytest

from wetmass.app import serving
from wetmass.app.hall import first_of
from wetmass.record.refusal import Refusal


def test_it_listens_on_this_machine_alone():
    for host in ("127.0.0.1", "localhost"):
        with serving._listen(host, 0) as made:
            assert made.getsockname()[0] == "127.0.0.1"


def test_a_name_or_a_taken_port_is_refused():
    with pytest.raises(Refusal, match="an address by number"):
        serving._listen("example.org", 0)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        with pytest.raises(Refusal, match="a free port"):
            serving._listen("127.0.0.1", taken.getsockname()[1])
    with pytest.raises(Refusal, match="a free port"):
        serving._listen("127.0.0.1", 99999)


@pytest.mark.parametrize(("host", "warned"), [("127.0.0.1", False), ("0.0.0.0", True)])
def test_a_wider_bind_warns_and_still_prints_a_token(host, warned, capsys, monkeypatch, tmp_path):
    (tmp_path / "a.yaml").write_text("name: A", encoding="utf-8")
    wide = []

    class Server:
        def __init__(self, config):
            wide.append(config.app.wide)

        def run(self, sockets):
            sockets[0].close()

    monkeypatch.setattr("uvicorn.Server", Server)
    assert serving.serve(str(tmp_path / "a.yaml"), host=host, port=0, opens=False) == serving.INTERRUPTED
    told = capsys.readouterr()
    assert "/open?token=" in told.out
    assert ("every machine that can reach this one" in told.err) is warned
    assert wide == [warned]


def test_the_token_is_fresh_each_time(capsys, monkeypatch, tmp_path):
    (tmp_path / "a.yaml").write_text("name: A", encoding="utf-8")
    monkeypatch.setattr("uvicorn.Server.run", lambda self, sockets: sockets[0].close())
    for _ in range(2):
        serving.serve(str(tmp_path / "a.yaml"), host="127.0.0.1", port=0, opens=False)
    lines = [line for line in capsys.readouterr().out.splitlines() if "token=" in line]
    tokens = {line.split("token=")[1] for line in lines}
    assert len(tokens) == 2
    assert all(len(token) >= 43 for token in tokens)


def test_a_folder_opens_its_first_file_and_a_wrong_name_is_told(tmp_path):
    with pytest.raises(Refusal, match="a folder without a concept file"):
        first_of(str(tmp_path))
    (tmp_path / "b.yaml").write_text("name: B", encoding="utf-8")
    (tmp_path / "a.yaml").write_text("name: A", encoding="utf-8")
    assert first_of(str(tmp_path))[1] == "a.yaml"
    with pytest.raises(Refusal, match="no such file"):
        first_of(str(tmp_path / "c.yaml"))
