"""The same work on the workers of a Dask scheduler, over TLS alone, with the settings and commands of the README."""

from __future__ import annotations

import os
import pickle
import re
import shlex
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest
from certificates import make_certificates
from eavesdropper import Eavesdropper
from support import SMALL, SMALL_ROWS

from docgen.errors import UserError
from docgen.packet.contents import case_contents
from docgen.packet.many import build_many, workers
from docgen.packet.recipe import Recipe

distributed = pytest.importorskip("distributed")
dask = pytest.importorskip("dask")
yaml = pytest.importorskip("yaml")

README = Path(__file__).parent.parent.parent / "README.md"
_BLOCK = README.read_text(encoding="utf-8").partition("<!-- cluster -->")[2].partition("<!-- /cluster -->")[0]
SETTINGS, COMMANDS = re.findall(r"```(?:yaml)?\n(.*?)```", _BLOCK, re.S)
RECIPE = Recipe(formats=("html", "docx"), only=("guide", "letter"))
SECRET = "Zephyrine Oduya-Marchetti"
CASE = SMALL.replace('name = "Robin Example"', f'name = "{SECRET}"\nmember_id = "QX-77120-ZZ"')
WORDS = [SECRET, "Zephyrine", "QX-77120-ZZ", "pads,door", "[trial]", "<!DOCTYPE html", "case.toml"]


def settings(folder: Path) -> dict[str, object]:
    """The settings of the README with certificates of a folder."""
    own = yaml.safe_load(SETTINGS.replace("/etc/docgen", str(folder)))
    return {"distributed": dask.config.merge(dask.config.config, own)["distributed"]}


def named(case_folder, *names: str, case: str = CASE) -> list[Path]:
    """A case folder for each id."""
    return [case_folder(case.replace('id = "small"', f'id = "{name}"'), SMALL_ROWS, name) for name in names]


class Running:
    """A scheduler and a worker as the README starts them, with an eavesdropper before the scheduler."""

    def __init__(self, home: Path) -> None:
        self.certificates = make_certificates(home / "certificates")
        (home / "dask").mkdir()
        (home / "dask" / "docgen.yaml").write_text(SETTINGS.replace("/etc/docgen", str(self.certificates)))
        self.environment = {**os.environ, "DASK_CONFIG": str(home / "dask")}
        scheduler, worker, self.build_command = COMMANDS.strip().split("\n")
        free = Eavesdropper()
        with free:
            port = free.port
        self.home, self.processes = home, list[subprocess.Popen[bytes]]()
        self.start(scheduler.replace("8786", str(port)) + " --host 127.0.0.1", "Scheduler at: ")
        self.middle = Eavesdropper(port)
        self.address = f"tls://127.0.0.1:{self.middle.port}"
        more = f" --nthreads 2 --no-nanny --host 127.0.0.1 --local-directory {home / 'scratch'}"
        self.start(worker.replace("tls://10.0.0.5:8786", self.address) + more, "Registered to: ")

    def start(self, command: str, sign: str) -> None:
        """Start a command of Dask and wait until it says the sign."""
        dask_command, *words = shlex.split(command)
        log = self.home / f"{words[0]}.log"
        with log.open("wb") as stream:
            program = [str(Path(sys.executable).with_name(dask_command)), *words]
            self.processes.append(subprocess.Popen(program, env=self.environment, stdout=stream, stderr=stream))
        until = time.monotonic() + 60
        while sign not in log.read_text(encoding="utf-8"):
            assert time.monotonic() < until and self.processes[-1].poll() is None, log.read_text(encoding="utf-8")
            time.sleep(0.05)

    def stop(self) -> None:
        """End what was started."""
        for process in reversed(self.processes):
            process.kill()
            process.wait()
        self.middle.__exit__()


@pytest.fixture(scope="module")
def running(tmp_path_factory):
    made = Running(tmp_path_factory.mktemp("cluster"))
    yield made
    made.stop()


def test_a_cluster_writes_the_same_bytes_in_order_and_tells_a_bad_case_by_its_own_name(running, case_folder, tmp_path):
    folders = named(case_folder, "cleo", "ana", "ben")
    (folders[1] / "case.toml").write_text("x = 1", encoding="utf-8")
    here = list(build_many(folders, RECIPE, tmp_path / "here", workers(RECIPE, tmp_path / "here", 3, jobs=1)))
    out = tmp_path / "there"
    with dask.config.set(settings(running.certificates)):
        there, again = (
            list(build_many(folders, RECIPE, out, workers(RECIPE, out, 3, cluster=running.address))) for _ in range(2)
        )
    assert [outcome.folder for outcome in there] == folders
    assert [outcome.problems for outcome in there] == [outcome.problems for outcome in here]
    assert [bool(outcome.problems) for outcome in there] == [False, True, False]
    assert [bool(outcome.packet and outcome.packet.unchanged) for outcome in again] == [True, False, True]
    for name in ("cleo", "ben"):
        assert {path.name: path.read_bytes() for path in (out / name).iterdir()} == {
            path.name: path.read_bytes() for path in (tmp_path / "here" / name).iterdir()
        }


def test_the_commands_of_the_readme_build_a_case_and_nobody_between_reads_a_word_of_it(running, case_folder, tmp_path):
    (folder,) = named(case_folder, "dora")
    middle, n_before = running.middle, len(running.middle.heard)
    words = shlex.split(running.build_command.replace("tls://10.0.0.5:8786", running.address))
    assert words[:2] == ["docgen", "build"]
    words[words.index("cases")], words[words.index("out")] = str(folder), str(tmp_path / "out")
    run = subprocess.run(
        [sys.executable, "-m", "docgen", *words[1:], "--formats", "html,docx"],
        env=running.environment,
        capture_output=True,
        text=True,
    )
    assert run.stderr == "" and run.returncode == 1  # a draft: little of it is recorded
    assert SECRET in (tmp_path / "out" / "dora" / "letter.html").read_text(encoding="utf-8")
    heard = [bytes(direction) for direction in middle.heard]
    assert len(heard) > n_before and sum(map(len, heard[n_before:])) > 50_000
    for direction in heard:
        assert all(word.encode() not in direction for word in WORDS)
        assert _is_tls_alone(direction)
    sent = b"".join(
        map(bytes, distributed.protocol.dumps({"task": distributed.protocol.ToPickle(case_contents(folder))}))
    )
    assert SECRET.encode() in sent  # without encryption they would be there to read


def _is_tls_alone(data: bytes) -> bool:
    """Whether all of it is records of TLS (RFC 8446, section 5.1: a type of 20 to 23, version 3.x, length)."""
    at = 0
    while at + 5 <= len(data):
        if data[at] not in range(20, 24) or data[at + 1] != 3:
            return False
        at += 5 + int.from_bytes(data[at + 3 : at + 5], "big")
    return True


@pytest.mark.parametrize(
    "form",
    ["tcp://{}", "{}", "ws://{}", "wss://{}", "ucx://{}", "inproc://{}", "TLS://{}", "tls://tcp://{}", "tls://a@{}", "tls://{},tcp://{}",
     "tls://127.0.0.1", "tls:///{}", "tls://{}/x", " tls://{}", "tls://{}\n"],
)  # fmt: skip
def test_anything_but_tls_is_refused_before_a_byte_is_sent(form, tmp_path):
    with Eavesdropper() as listener:
        address = form.replace("{}", f"127.0.0.1:{listener.port}")
        with pytest.raises(UserError, match=r"is no address of an encrypted connection.*\. Give it as tls://"):
            workers(Recipe(), tmp_path, 3, cluster=address)
        time.sleep(0.02)
        assert listener.n_connections == 0


def test_a_missing_package_is_one_sentence_that_says_how_to_install_it(monkeypatch, tmp_path):
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(
        UserError, match=r"needs the package distributed\. Install it with: pip install 'docgen\[cluster\]'"
    ):
        workers(Recipe(), tmp_path, 3, cluster="tls://127.0.0.1:1")


def test_a_scheduler_that_does_not_answer_is_one_sentence(monkeypatch, tmp_path):
    monkeypatch.setattr("docgen.packet.cluster._CONNECT_S", 0.5)
    with (
        dask.config.set(settings(make_certificates(tmp_path / "own"))),
        pytest.raises(UserError, match="there is no scheduler at tls://127.0.0.1:1 "),
    ):
        workers(Recipe(), tmp_path, 3, cluster="tls://127.0.0.1:1")


def test_a_certificate_of_another_authority_is_refused_on_both_sides(running, monkeypatch, tmp_path):
    monkeypatch.setattr("docgen.packet.cluster._CONNECT_S", 2)
    with (
        dask.config.set(settings(make_certificates(tmp_path / "stranger"))),
        pytest.raises(UserError, match="there is no scheduler at .* that takes our certificate"),
    ):
        workers(Recipe(), tmp_path, 3, cluster=running.address)


@pytest.mark.parametrize(
    "spoil, told",
    [
        (lambda own: shutil.rmtree(own), r"a certificate or key that cannot be read: .*authority\.pem"),
        (lambda own: (own / "authority.pem").write_text("no certificate"), "settings is none: "),
        (lambda own: (own / "machine.key").write_text("no key"), "settings is none: "),
    ],
)
def test_a_certificate_that_cannot_be_used_is_one_sentence(spoil, told, tmp_path):
    own = make_certificates(tmp_path / "own")
    spoil(own)
    with (
        dask.config.set(settings(own)),
        Eavesdropper() as listener,
        pytest.raises(UserError, match=told),
    ):
        workers(Recipe(), tmp_path, 3, cluster=f"tls://127.0.0.1:{listener.port}")
    assert listener.n_connections == 0


def test_settings_without_certificates_are_one_sentence_that_says_where_they_are_explained(tmp_path):
    with pytest.raises(UserError, match=r"name no certificates to encrypt with\. See 'Many cases' in README\.md"):
        workers(Recipe(), tmp_path, 3, cluster="tls://127.0.0.1:1")


class _Client:
    """A scheduler that is reached over TLS while one of its workers is not."""

    at_work = {"tls://10.0.0.6:1": 4}

    def __init__(self, *_: object, **__: object) -> None:
        self.sent: list[object] = []
        self.closed = False

    def nthreads(self) -> dict[str, int]:
        return self.at_work

    def scatter(self, data: object, broadcast: bool) -> object:
        self.sent.append(data)
        return data

    def submit(self, *arguments: object, pure: bool) -> None:
        self.sent.append(arguments)

    def close(self) -> None:
        self.closed = True


def test_a_worker_reached_without_encryption_is_sent_nothing(monkeypatch, case_folder, tmp_path):
    made: list[_Client] = []
    monkeypatch.setattr(distributed, "Client", lambda *a, **k: made.append(_Client()) or made[-1])
    (folder,) = named(case_folder, "dora")
    with dask.config.set(settings(make_certificates(tmp_path / "own"))):
        monkeypatch.setattr(_Client, "at_work", {"tls://10.0.0.6:1": 4, "tcp://10.0.0.9:1": 4})
        with pytest.raises(UserError, match="the worker at tcp://10.0.0.9:1 is reached without encryption"):
            workers(RECIPE, tmp_path, 3, cluster="tls://10.0.0.5:8786")
        assert made[0].closed and not made[0].sent
        monkeypatch.setattr(_Client, "at_work", {"tls://10.0.0.6:1": 4})
        with workers(RECIPE, tmp_path, 3, cluster="tls://10.0.0.5:8786") as cluster:
            cluster.submit(case_contents(folder))
            assert made[1].sent[0] is RECIPE and SECRET.encode() in pickle.dumps(made[1].sent[1])
            monkeypatch.setattr(_Client, "at_work", {"tls://10.0.0.6:1": 4, "tcp://10.0.0.9:1": 4})  # it joins later
            problems = cluster.submit(case_contents(folder)).result().problems
            assert "is reached without encryption" in str(problems[0]) and len(made[1].sent) == 2
