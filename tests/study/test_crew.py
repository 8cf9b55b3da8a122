"""Who works on a study: the same results by any hands, and nothing lost, doubled or dragged down."""

import itertools
import os
import signal
import sqlite3
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from points import BASE, killed_at_seven, points, slowly, sometimes_wrong, squared

from wetmass.record.refusal import Refusal
from wetmass.study.crew import Crew, run
from wetmass.study.point import CLOSES, FAILED
from wetmass.study.store import Store

HERE = Path(__file__).parent


@pytest.fixture(autouse=True)
def workers_find_these_points(monkeypatch):
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join([str(HERE), os.environ.get("PYTHONPATH", "")]))


def test_results_are_the_same_whatever_the_number_of_workers():
    alone = run(BASE, points(23), crew=Crew(0), work=squared)
    assert [one["payload"] for one in alone] == [n**2 / 7.0 for n in range(23)]
    assert run(BASE, points(23), crew=Crew(1), work=squared) == alone
    assert run(BASE, points(23), crew=Crew(3), work=squared) == alone
    with ThreadPoolExecutor(4) as threads:
        assert run(BASE, points(23), crew=Crew(executor=threads), work=squared) == alone


def test_a_dask_cluster_gives_bit_for_bit_what_this_machine_gives(tmp_path):
    distributed = pytest.importorskip("distributed")
    with (
        distributed.LocalCluster(
            n_workers=2,
            threads_per_worker=1,
            processes=True,
            dashboard_address=None,
            local_directory=str(tmp_path),
        ) as cluster,
        Store(tmp_path / "dask.db") as far,
        Store(tmp_path / "here.db") as near,
    ):
        run(BASE, points(23), crew=Crew(cluster=cluster.scheduler_address), store=far, work=sometimes_wrong)
        run(BASE, points(23), crew=Crew(0), store=near, work=sometimes_wrong)
        assert list(far.rows()) == list(near.rows())


def test_an_address_where_no_scheduler_answers_is_refused_in_words(monkeypatch):
    pytest.importorskip("distributed")
    with pytest.raises(Refusal, match="where no scheduler answers"):
        run(BASE, points(2), crew=Crew(cluster="nowhere://at all"), work=squared)


def test_a_point_that_fails_is_kept_with_its_reason_and_loses_no_other():
    out = run(BASE, points(20), crew=Crew(2), work=sometimes_wrong)
    assert [n for n, one in enumerate(out) if one.state == FAILED] == [3, 8, 13, 18]
    assert out[3].reason == "ZeroDivisionError: a defect on purpose"
    assert all(one.state == CLOSES for n, one in enumerate(out) if n % 5 != 3)


def test_a_point_that_kills_its_worker_is_found_and_the_rest_is_done():
    out = run(BASE, points(20), crew=Crew(2), work=killed_at_seven)
    assert [n for n, one in enumerate(out) if one.state == FAILED] == [7]
    assert "the worker process ended" in out[7].reason
    assert [one["payload"] for n, one in enumerate(out) if n != 7] == [
        n**2 / 7.0 for n in range(20) if n != 7
    ]


def test_killed_in_the_middle_and_started_again_the_store_is_that_of_an_undisturbed_study(tmp_path):
    command = [sys.executable, str(HERE / "killed.py")]
    subprocess.run([*command, str(tmp_path / "calm.db")], check=True, timeout=60)
    shot = tmp_path / "shot.db"
    process = subprocess.Popen([*command, str(shot)], start_new_session=True)
    for _ in range(3000):
        time.sleep(0.01)
        if shot.exists() and _count(shot) >= 20:
            break
    os.killpg(process.pid, signal.SIGKILL)  # the head and its workers at once
    process.wait()
    between = _count(shot)
    assert 20 <= between < 120
    subprocess.run([*command, str(shot)], check=True, timeout=60)
    with Store(shot) as one, Store(tmp_path / "calm.db") as other:
        assert len(one) == 120
        assert list(one.rows()) == list(other.rows())


def _count(path):
    try:
        base = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
        try:
            return base.execute("select count(*) from points").fetchone()[0]
        finally:
            base.close()
    except sqlite3.Error:
        return 0


def test_results_that_are_there_are_not_worked_out_again(tmp_path):
    told = []
    with Store(tmp_path / "some.db") as store:
        run(BASE, points(10), crew=Crew(0), store=store, work=squared)
        run(BASE, points(12), crew=Crew(0), store=store, work=squared, told=lambda *now: told.append(now))
    assert [now[:2] for now in told] == [(10, 12), (11, 12), (12, 12)]


def test_time_left_is_told_from_the_time_that_was_needed():
    left = []
    run(BASE, points(6), crew=Crew(0), work=slowly, told=lambda done, of, s: left.append(s))
    assert left[0] == float("inf") and left[-1] == 0.0
    assert all(one > other for one, other in itertools.pairwise(left))


def test_a_store_is_refused_when_it_is_another_kind_of_file(tmp_path):
    other = tmp_path / "letters.db"
    base = sqlite3.connect(other)
    base.execute("create table letters (a)")
    base.commit()
    base.close()
    with pytest.raises(Refusal, match="it holds other tables"):
        Store(other)
    (tmp_path / "text.db").write_text("no database at all " * 50)
    with pytest.raises(Refusal, match="a file of study results"):
        Store(tmp_path / "text.db")
