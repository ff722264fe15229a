"""The engine's process: what it shows, when it leaves off, and what becomes of one that fails."""

from __future__ import annotations

import asyncio
import json
import multiprocessing
import re
import threading
from concurrent.futures import ThreadPoolExecutor

import pytest

from kerfwind.app import engine, link
from kerfwind.app import planner as planner_module
from kerfwind.app.asking import Ask, Fetch, Fetched, Shown, Stop, Stopped, Superseded
from kerfwind.app.engine import Post
from kerfwind.app.planner import Planner
from kerfwind.app.ticks import Work
from tests.app.conftest import PATIENCE_MS, SHOP
from tests.app.failing import ends_at_once, ends_when_asked


def ask(number=1, text=SHOP, places=("air",), **more):
    return Ask(number, number, places, text, "shop.toml", **more)


@pytest.fixture
def posts():
    """The engine's end of a pipe, and the server's."""
    ours, theirs = multiprocessing.Pipe()
    with ours, theirs:
        yield Post(ours), theirs


def test_of_several_questions_the_last_counts_and_no_text_is_lost(posts):
    post, server = posts
    for each in (ask(1, "first"), ask(2, "second"), Fetch(3, "scene", "second", ""), ask(4, None)):
        server.send(each)
    fetch, last = post.next()
    assert fetch.what == "scene"
    assert (last.number, last.text) == (4, "second")


def test_a_question_left_for_a_file_is_still_answered(posts):
    post, server = posts
    server.send(ask(1))
    (first,) = post.next()
    post.newer(first)
    server.send(Fetch(2, "scene", SHOP, ""))
    with pytest.raises(Superseded):
        post.newer(first)
    post.put_back(first)
    assert [each.number for each in post.next()] == [2, 1]


def test_only_a_stop_of_this_question_stops_it(posts):
    post, server = posts
    server.send(Stop(1))
    post.newer(ask(2))
    server.send(Stop(2))
    with pytest.raises(Stopped):
        post.newer(ask(2))
    server.send(Stop(2))
    server.send(ask(3))
    with pytest.raises(Superseded):
        post.newer(ask(2))


def frame_of(shown):
    return dict(shown.places["frame"])["frame-answer"]


def test_a_stop_keeps_the_first_answer_and_says_what_was_not_checked():
    planner = Planner()
    told = []
    stop = False

    def newer():
        if stop:
            raise Stopped

    answers = []
    for shown in planner.show(ask(), newer, lambda *each: told.append(each)):
        answers.append(shown)
        stop = True
    assert [a.checking for a in answers] == [True, False]
    assert 'data-state="stopped"' in frame_of(answers[-1])
    assert "not checked" in frame_of(answers[-1])
    # What would help was not looked for: nothing says that nothing does.
    helps = dict(answers[-1].places["air"])["air-help"]
    assert "not checked" in helps
    assert "<table" not in helps
    stop = False
    (still,) = planner.show(ask(2), newer)
    assert 'data-state="stopped"' in frame_of(still)
    *_, whole = planner.show(ask(3, anew=True), newer)
    assert 'data-state="checked"' in frame_of(whole)
    *_, never_stopped = Planner().show(ask(3), newer)
    assert whole == never_stopped


def test_a_stop_before_there_is_an_answer_stops_after_it():
    def newer():
        raise Stopped

    (shown,) = Planner().show(ask(), newer)
    assert 'data-state="stopped"' in frame_of(shown)
    assert "<table" in dict(shown.places["air"])["air-tools"]


def test_what_is_being_worked_out_is_told_and_how_far_it_is():
    told = []
    for _ in Planner().show(ask(), lambda: None, lambda *each: told.append(each)):
        pass
    half = len(told) // 2
    for run in (told[:half], told[half:]):
        assert [at for _, at, _ in run] == list(range(half))
        assert all(at < of == half and re.search(r"\w{4}", what) for what, at, of in run)


def test_a_new_text_forgets_the_stop():
    def newer():
        raise Stopped

    planner = Planner()
    list(planner.show(ask(), newer))
    *_, shown = planner.show(ask(2, SHOP.replace("8 ft", "9 ft")), lambda: None)
    assert 'data-state="checked"' in frame_of(shown)


def test_what_is_known_whole_is_shown_at_once():
    planner = Planner()
    list(planner.show(ask(), lambda: None))
    renamed = SHOP.replace("A small shop", "Another name")
    (only,) = planner.show(ask(2, renamed), lambda: None)
    assert not only.checking
    *_, fresh = Planner().show(ask(2, renamed), lambda: None)
    assert only.places["air"] == fresh.places["air"]
    answers = [dict(each.places["frame"]) for each in (only, fresh)]
    assert answers[0]["frame-answer"] == answers[1]["frame-answer"]
    assert answers[0]["frame-todo"] == answers[1]["frame-todo"]


def test_the_model_does_not_wait_for_the_rest():
    planner = Planner()
    first = next(planner.show(ask(), lambda: None))
    assert first.checking
    got = planner.fetch(Fetch(2, "scene", SHOP, "shop.toml"))
    assert b'"bodies"' in got.content
    assert not planner.whole


def test_the_pages_are_those_of_the_plan_and_made_once():
    planner = Planner()
    got = planner.fetch(Fetch(1, "pages", SHOP, "shop.toml"))
    pages = json.loads(got.content)
    assert len(pages) > 5
    assert all(page.startswith("<svg") for page in pages)
    assert planner.fetch(Fetch(2, "pages", SHOP, "shop.toml")).content is got.content
    other = SHOP.replace("A small shop", "Another name")
    assert planner.fetch(Fetch(3, "pages", other, "shop.toml")).content != got.content


def test_an_edit_is_answered_while_the_plan_prints(monkeypatch):
    """The printer waits for the answer, so a held engine would never give one."""
    ours, theirs = multiprocessing.Pipe()
    answered = threading.Event()

    def slow(fetch, plan):
        assert answered.wait(PATIENCE_MS / 1000)
        return Fetched(fetch.number, plan.title.encode())

    monkeypatch.setattr(planner_module, "fetched", slow)
    monkeypatch.setattr(engine, "start_worker", lambda *modules, stands_back: None)
    serving = threading.Thread(target=engine.serve, args=(ours,), daemon=True)
    daemon = multiprocessing.process.current_process()._config.get("daemon")
    serving.start()
    theirs.send(Fetch(1, "plan.pdf", SHOP, "shop.toml"))
    theirs.send(ask(2, SHOP.replace("A small shop", "Another")))
    heard = []
    while not (heard and isinstance(heard[-1], Fetched)):
        assert theirs.poll(PATIENCE_MS / 1000)
        heard.append(theirs.recv())
        if isinstance(heard[-1], Shown):
            answered.set()
    shown = next(h for h in heard if isinstance(h, Shown))
    assert "Another" in dict(shown.places["frame"])["frame-title"]
    # What prints is still the plan that it was asked of.
    assert heard[-1].content == b"A small shop"
    while not any(isinstance(h, Shown) and not h.checking for h in heard):
        heard.append(theirs.recv())
    theirs.close()
    serving.join()
    ours.close()
    multiprocessing.process.current_process()._config["daemon"] = daemon


def test_what_cannot_be_printed_is_said(monkeypatch, capfd, posts):
    post, server = posts

    def torn():
        raise ValueError("no such glyph")

    engine._print(Fetch(7, "plan.pdf", SHOP, ""), torn, post)
    assert server.recv() == Fetched(7, None)
    assert "no such glyph" in capfd.readouterr().err


@pytest.mark.parametrize("serve", [ends_at_once, ends_when_asked])
def test_an_engine_that_always_fails_is_given_up(monkeypatch, serve):
    monkeypatch.setattr(link, "be_engine", serve)
    ended = []

    async def run():
        gave_up = asyncio.Event()

        def on_ended():
            ended.append(begun.given_up)
            if begun.given_up:
                gave_up.set()
            else:
                question()

        begun = link.Engine(lambda shown: None, lambda doing: None, on_ended)

        def question():
            begun.ask(1, (), SHOP, "shop.toml", Work(), "")

        try:
            question()
            await gave_up.wait()
            gave_up.clear()
            # Whoever wants a file then is told that there is none, and does not wait.
            assert (await begun.fetch("plan.pdf", SHOP, "shop.toml")).content is None
            begun.begin_anew()
            question()
            await gave_up.wait()
        finally:
            begun.end()

    # The browser of other tests has this thread's loop.
    with ThreadPoolExecutor(1) as other_thread:
        other_thread.submit(asyncio.run, run()).result()
    assert ended == [False, False, True] * 2


def test_units_are_no_change_of_the_answers():
    planner = Planner()
    for number, text in enumerate((SHOP, SHOP.replace("[about]\n", '[about]\nunits = "mm"\n'))):
        *_, shown = planner.show(ask(number, text), lambda: None)
    assert "None of the answers" in dict(shown.places["frame"])["frame-changed"]


def test_a_file_without_a_tool_shows_no_plan_of_before():
    planner = Planner()
    list(planner.show(ask(1, SHOP), lambda: None))
    *_, shown = planner.show(ask(2, '[about]\nname = "My shop"\n'), lambda: None)
    for parts in shown.places.values():
        assert "sander" not in "".join(html for _, html in parts if "todo" not in html)


def test_what_is_of_an_older_file_says_so():
    planner = Planner()
    list(planner.show(Ask(1, 1, ("air", "cutting"), SHOP, "shop.toml"), lambda: None))
    broken = SHOP.replace('length = "8 ft"', 'length = "8 stone"')
    *_, shown = planner.show(Ask(2, 2, ("air", "cutting"), broken, "shop.toml"), lambda: None)
    for place in ("air", "cutting"):
        assert "last file that could be planned" in dict(shown.places[place])["older"]
