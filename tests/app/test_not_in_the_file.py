"""While the file on the disk does not get what is entered, each tab says so for as long."""

from __future__ import annotations

KEPT = "#connection[data-state=kept]"


def test_a_file_that_cannot_be_read_is_told_of_as_long_as_it_is_so(visiting, own_visit):
    server = own_visit.server
    text = server.file.read_text()
    broken = text + "\n[[tools\n"
    line = broken.count("\n")
    server.file.write_text(broken)
    own_visit.page.wait_for_selector(KEPT)
    own_visit.write("vacuum-height", "25 in")
    own_visit.settled("shop")
    later = visiting(server, width=390, height=844)
    later.go("shop")
    for visit in (own_visit, later):
        visit.page.wait_for_selector(KEPT)
        said = visit.text("#connection")
        assert f"line {line}" in said
        assert "not in the file yet" in said
        assert visit.page.locator("html").evaluate("e => e.scrollWidth <= innerWidth")
    assert later.page.input_value("#vacuum-height") == "25 in"
    assert server.file.read_text() == broken
    server.kill()
    server.start()
    own_visit.page.wait_for_selector(KEPT)
    server.file.write_text(text)
    own_visit.saved()
    later.saved()
    own_visit.wait_file(lambda text: "25 in" in text)


def test_a_file_that_cannot_be_written_is_told_of_as_long_as_it_is_so(visiting, own_visit):
    folder = own_visit.server.file.parent
    elsewhere = folder.with_name(f"{folder.name}-unplugged")
    folder.rename(elsewhere)
    own_visit.write("vacuum-height", "25 in")
    own_visit.page.wait_for_selector(KEPT)
    later = visiting(own_visit.server)
    later.go("shop")
    later.page.wait_for_selector(KEPT)
    assert "not in the file yet" in later.text("#connection")
    elsewhere.rename(folder)
    own_visit.saved()
    later.saved()
    own_visit.wait_file(lambda text: "25 in" in text)


def test_a_broken_file_that_is_taken_away_is_written_anew(own_visit):
    file = own_visit.server.file
    file.write_text(file.read_text() + "\n[[tools\n")
    own_visit.page.wait_for_selector(KEPT)
    file.unlink()
    own_visit.saved()
    own_visit.write("vacuum-height", "25 in")
    for _ in range(1800):
        if file.exists() and "25 in" in file.read_text():
            return
        own_visit.page.wait_for_timeout(100)
    raise AssertionError
