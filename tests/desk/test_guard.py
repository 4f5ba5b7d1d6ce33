"""Nobody but the browser that was opened with the link gets in, and nothing gets out to another page."""

from __future__ import annotations

import pytest
from asking import HOME, PORT, Visitor, address_of
from by_hand import ID, write_by_hand

from docgen.desk.guard import MOST_BYTES


@pytest.fixture
def visitor(tmp_path):
    return Visitor(tmp_path).enter()


def test_the_link_opens_once_and_gives_a_cookie_that_no_script_and_no_other_site_gets(tmp_path):
    visitor = Visitor(tmp_path)
    link = visitor.door.link
    assert visitor.get("/").status == 403
    first = visitor.ask("GET", link)
    assert (first.status, first.headers["location"]) == (303, "/")
    cookie = first.headers["set-cookie"].lower()
    assert "httponly" in cookie and "samesite=strict" in cookie
    assert visitor.ask("GET", link).status == 403


@pytest.mark.parametrize("path", ["/enter/", "/enter/x", "/enter/" + "A" * 43, "/", "/case/0", "/files/desk.css"])
def test_a_guessed_link_opens_nothing(path, tmp_path):
    visitor = Visitor(tmp_path)
    assert visitor.get(path).status == 403
    assert visitor.door.link  # it was not used up


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"host": f"evil.example:{PORT}"}, 421),  # a name bound anew to this machine
        ({"host": "127.0.0.1:80"}, 421),
        ({"host": ""}, 421),
        ({"origin": "http://evil.example"}, 403),
        ({"origin": "null"}, 403),
        ({"origin": f"https://{HOME}"}, 403),
        ({"sec_fetch_site": "cross-site"}, 403),
        ({"sec_fetch_site": "same-site"}, 403),
        ({"cookie": "desk=guessed"}, 403),
        ({"cookie": None}, 403),
    ],
)
@pytest.mark.parametrize("method", ["GET", "POST"])
def test_what_comes_from_elsewhere_is_refused(method, headers, status, visitor):
    own = {"origin": f"http://{HOME}"} if method == "POST" else {}
    assert visitor.ask(method, "/close" if method == "POST" else "/", **own | headers).status == status
    assert not visitor.closed


def test_a_form_without_its_page_is_refused(visitor):
    assert visitor.ask("POST", "/close").status == 403
    assert not visitor.closed
    assert visitor.post("/close").status == 200
    assert visitor.closed


@pytest.mark.parametrize("method", ["PUT", "DELETE", "OPTIONS", "TRACE", "CONNECT"])
def test_no_other_method_is_known(method, visitor):
    answer = visitor.ask(method, "/")
    assert answer.status == 405
    assert not [name for name in answer.headers if name.startswith("access-control")]


@pytest.mark.parametrize("said", [None, str(MOST_BYTES + 1), "x", "-1", "10"])
def test_what_is_too_long_is_refused_whatever_length_it_says(said, visitor):
    body = b"path=" + b"a" * MOST_BYTES
    answer = visitor.ask("POST", "/case/x/who/answer", body, origin=f"http://{HOME}", content_length=said)
    assert answer.status in (400, 413)


@pytest.mark.parametrize("path", ["/", "/files/desk.js", "/nothing", "/case/0/who"])
def test_no_answer_is_kept_or_framed_or_runs_a_script_of_the_page(path, visitor):
    headers = visitor.get(path).headers
    assert headers["cache-control"] == "no-store"
    assert headers["referrer-policy"] == "same-origin"
    assert headers["x-content-type-options"] == "nosniff"
    policy = headers["content-security-policy"]
    assert "script-src 'self'" in policy and "unsafe" not in policy and "frame-ancestors 'none'" in policy
    assert not [name for name in headers if name.startswith("access-control")]


@pytest.mark.parametrize("path", ["/files/../app.py", "/files/%2e%2e/app.py", "/files//etc/passwd", "/case/../../etc"])
def test_no_path_leads_out(path, visitor):
    assert visitor.get(path).status in (400, 404)


_PART = b'--x\r\nContent-Disposition: form-data; name="a"\r\n\r\nb\r\n'


@pytest.mark.parametrize(
    "body",
    [b"", b"no part", _PART[:-9], _PART * 501 + b"--x--\r\n", b"--x\r\nContent-Disposition: \xff\r\n\r\n--x--\r\n"],
    ids=["empty", "no_part", "cut_off", "too_many", "no_name"],
)
@pytest.mark.parametrize("kind", ["multipart/form-data; boundary=x", "multipart/form-data", "application/json"])
def test_what_is_no_form_is_refused(kind, body, tmp_path):
    visitor = Visitor(write_by_hand(tmp_path).parent).enter()
    at = address_of(visitor.get("/").text, ID)
    answer = visitor.ask("POST", f"{at}/enclose", body, origin=f"http://{HOME}", content_type=kind)
    assert answer.status in (400, 413, 415, 422)
    assert not (tmp_path / ID / ".desk").exists()
