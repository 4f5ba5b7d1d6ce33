"""The same work on the workers of a Dask scheduler that the test starts."""

from __future__ import annotations

import sys

import pytest
from support import SMALL, SMALL_ROWS

from docgen.errors import UserError
from docgen.packet.many import build_many, workers
from docgen.packet.recipe import Recipe


def test_a_cluster_writes_the_same_bytes_in_order_and_tells_a_bad_case_by_its_own_name(case_folder, tmp_path):
    distributed = pytest.importorskip("distributed")
    recipe = Recipe(formats=("html", "docx"), only=("guide", "letter"))
    folders = [
        case_folder(SMALL.replace('id = "small"', f'id = "{name}"'), SMALL_ROWS, name)
        for name in ("cleo", "ana", "ben")
    ]
    (folders[1] / "case.toml").write_text("x = 1", encoding="utf-8")
    here = list(build_many(folders, recipe, tmp_path / "here", workers(recipe, tmp_path / "here", 3, jobs=1)))
    with distributed.LocalCluster(
        n_workers=1,
        threads_per_worker=2,
        dashboard_address=":0",
        host="127.0.0.1",
        local_directory=str(tmp_path / "dask"),
    ) as cluster:
        out = tmp_path / "there"
        there = list(build_many(folders, recipe, out, workers(recipe, out, 3, cluster=cluster.scheduler_address)))
        again = list(build_many(folders, recipe, out, workers(recipe, out, 3, cluster=cluster.scheduler_address)))
    assert [one.folder for one in there] == folders
    assert [one.problems for one in there] == [one.problems for one in here] and there[1].problems
    assert [bool(one.packet and one.packet.unchanged) for one in again] == [True, False, True]
    for name in ("cleo", "ben"):
        assert {path.name: path.read_bytes() for path in (out / name).iterdir()} == {
            path.name: path.read_bytes() for path in (tmp_path / "here" / name).iterdir()
        }


def test_a_missing_package_is_one_sentence_that_says_how_to_install_it(monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(
        UserError, match=r"needs the package distributed\. Install it with: pip install 'docgen\[cluster\]'"
    ):
        workers(Recipe(), tmp_path, 3, cluster="tcp://127.0.0.1:1")


@pytest.mark.parametrize("address", ["tcp://127.0.0.1:1", "nowhere"])
def test_a_scheduler_that_does_not_answer_is_one_sentence(address, monkeypatch, tmp_path):
    pytest.importorskip("distributed")
    monkeypatch.setattr("docgen.packet.workers._CONNECT_S", 0.5)
    with pytest.raises(UserError, match="there is no scheduler at"):
        workers(Recipe(), tmp_path, 3, cluster=address)
