"""Who may ask: each refusal, and what is let through."""

import asgi
import pytest

from wetmass.app.guard import POLICY
from wetmass.app.server import application

TOKEN = "t" * 43
HOST = "127.0.0.1:8765"


class Hall:
    """A hall that only says that it was reached."""

    async def start(self):
        pass

    async def stop(self):
        pass

    async def talk(self, socket):
        await socket.accept()
        await socket.send_text("reached")
        await socket.close()


def asked(known=True, path="/", method="GET", wide=False, **headers):
    given = {"host": HOST, **{name.lower().replace("_", "-"): value for name, value in headers.items()}}
    if known:
        given.setdefault("cookie", f"wetmass-8765={TOKEN}")
    return asgi.call(application(Hall(), TOKEN, 8765, wide), method, path, given)


def test_the_page_is_served_to_who_knows_the_token():
    answer = asked()
    assert answer.status_code == 200
    assert "wetmass" in answer.text


def test_the_token_moves_from_the_address_into_a_cookie_no_script_can_read():
    answer = asked(known=False, path=f"/open?token={TOKEN}")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    assert answer.headers["set-cookie"] == f"wetmass-8765={TOKEN}; HttpOnly; SameSite=Strict; Path=/"


@pytest.mark.parametrize("path", ["/", "/look.css", "/vega.js", "/static/main.js", "/nothing"])
def test_without_the_token_nothing_is_served(path):
    answer = asked(known=False, path=path)
    assert answer.status_code == 403
    assert "accepted the address printed when wetmass started" in answer.text


@pytest.mark.parametrize("token", ["", "t" * 42, "t" * 44, "u" * 43, "é"])
def test_a_wrong_token_is_refused(token):
    answer = asked(known=False, path=f"/open?token={token}")
    assert answer.status_code == 403
    assert "wrong token" in answer.text
    assert "set-cookie" not in answer.headers


def test_a_wrong_cookie_is_refused():
    assert asked(known=False, cookie="wetmass-8765=guess").status_code == 403
    assert asked(known=False, cookie=f"wetmass-1={TOKEN}").status_code == 403  # another port's
    assert asked(known=False, cookie="wetmass-8765=a;\x00bad").status_code == 403


@pytest.mark.parametrize(
    "host", ["example.org:8765", "127.0.0.1:1", "127.0.0.1", "localhost.example.org:8765", "10.0.0.7:8765"]
)
def test_a_foreign_host_is_refused_even_with_the_token(host):
    answer = asked(Host=host)
    assert answer.status_code == 421
    assert f'got the host "{host}"' in answer.text
    assert asked(path=f"/open?token={TOKEN}", known=False, Host=host).status_code == 421


def test_a_wider_bind_takes_addresses_by_number_never_names_and_still_needs_the_token():
    assert asked(wide=True, Host="10.0.0.7:8765", cookie=f"wetmass-8765={TOKEN}").status_code == 200
    assert asked(wide=True, Host="example.org:8765", cookie=f"wetmass-8765={TOKEN}").status_code == 421
    assert asked(wide=True, known=False, Host="10.0.0.7:8765").status_code == 403


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS"])
def test_nothing_is_changed_by_a_request(method):
    answer = asked(method=method)
    assert answer.status_code == 405
    assert "accepted GET and HEAD" in answer.text


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_requests_made_by_other_sites_are_refused(site):
    answer = asked(sec_fetch_site=site)
    assert answer.status_code == 403
    assert "another site" in answer.text


@pytest.mark.parametrize("known", [True, False])
def test_every_answer_carries_the_policy(known):
    answer = asked(known=known)
    assert answer.headers["content-security-policy"] == POLICY
    assert "unsafe" not in POLICY
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert answer.headers["x-frame-options"] == "DENY"


@pytest.mark.parametrize(
    "path", ["/static/../server.py", "/static/%2e%2e%2fserver.py", "/static/nothing.js", "/fonts/../look.py"]
)
def test_only_the_page_s_own_files_are_served(path):
    assert asked(path=path).status_code == 404


def test_a_file_that_is_known_is_not_sent_again():
    first = asked(path="/static/page.css")
    assert asked(path="/static/page.css", if_none_match=first.headers["etag"]).status_code == 304


# ── the one line ──


def talked(known=True, **headers):
    given = {"host": HOST, **headers}
    if known:
        given["cookie"] = f"wetmass-8765={TOKEN}"
    return asgi.connect(application(Hall(), TOKEN, 8765), "/talk", given)


def test_the_line_is_open_to_our_own_page():
    assert any(one.get("text") == "reached" for one in talked(origin=f"http://{HOST}"))


@pytest.mark.parametrize(
    ("known", "headers", "words"),
    [
        (True, {}, "foreign origin"),
        (True, {"origin": "http://example.org"}, "foreign origin"),
        (True, {"origin": "https://127.0.0.1:8765"}, "foreign origin"),
        (True, {"origin": "null"}, "foreign origin"),
        (True, {"origin": "http://127.0.0.1:9999"}, "foreign origin"),
        (False, {"origin": f"http://{HOST}"}, "no token"),
        (True, {"origin": "http://example.org:8765", "host": "example.org:8765"}, "got the host"),
    ],
)
def test_the_line_is_refused_to_others(known, headers, words):
    (only,) = talked(known, **headers)
    assert (only["type"], only["code"]) == ("websocket.close", 1008)
    assert words in only["reason"]
