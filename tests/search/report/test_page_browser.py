"""The report page in a real browser: what it shows, how it is worked by hand and by keys, how it looks and prints."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.contrasts import CONTRASTS

pytestmark = pytest.mark.browser

Show = Callable[..., Any]
PHONE = {"viewport": {"width": 360, "height": 780}, "is_mobile": True, "has_touch": True}


def told(tab: Any, place: str, text: str | re.Pattern[str]) -> None:
    """Waits until a place on the page says so; without scripts in text, which the page's own policy bars."""
    from playwright.sync_api import expect

    expect(tab.locator(place)).to_have_text(text)


def column(tab: Any, field: str) -> list[str]:
    """What a column of the list shows, from the top."""
    return list(tab.locator(f".tabulator-row .tabulator-cell[tabulator-field='{field}']").all_inner_texts())


def press(tab: Any, times: int, key: str) -> None:
    for _ in range(times):
        tab.keyboard.press(key)


def title(tab: Any) -> str:
    return str(tab.locator("#card h2").inner_text())


def test_the_card_tells_the_best_design_first(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run)
    assert title(tab) == f"Design {designs[0]['id'][:4]}"
    labels = [text.replace(" ", "").split("·") for text in tab.locator("#card .labels").all_inner_texts()]
    assert [[int(x) for x in one] for one in labels] == designs[0]["dice"]
    assert tab.locator("#card .place").inner_text().startswith("Rank 1 of 10")
    why = tab.locator("#card .why").inner_text()
    for parts in designs[0]["parts"].values():
        for part in parts:
            assert part["name"] in why
            assert part["words"] in why
    assert tab.locator("#table .tabulator-row.chosen").get_attribute("aria-selected") == "true"


def test_the_list_sorts(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run)
    assert [int(x) for x in column(tab, "score_overall")] == [one["scores"]["overall"] for one in designs]
    head = tab.locator(".tabulator-col[tabulator-field='score_legible']")
    head.click()
    legible = sorted((one["scores"]["legible"] for one in designs), reverse=True)
    assert [int(x) for x in column(tab, "score_legible")] == legible
    assert head.get_attribute("aria-sort") == "descending"
    head.focus()
    tab.keyboard.press("Enter")
    assert [int(x) for x in column(tab, "score_legible")] == legible[::-1]
    tab.locator(".tabulator-col[tabulator-field='die_0']").click()
    shown = [re.findall(r"[0-9a-f]{4}", text)[-1] for text in column(tab, "rank")]
    assert shown == [one["id"][:4] for one in sorted(designs, key=lambda one: one["dice"][0])]


def test_the_filters(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run)
    search = tab.locator("[name='text']")

    def expect(keep: Callable[[dict[str, Any]], bool]) -> None:
        wanted = [one["id"][:4] for one in designs if keep(one)]
        assert 0 < len(wanted) < len(designs)
        told(tab, "#shown", re.compile(rf"^{len(wanted)} of"))
        assert [re.findall(r"[0-9a-f]{4}", text)[-1] for text in column(tab, "rank")] == wanted

    search.fill("5 5")
    expect(lambda one: any(Counter(labels)[5] >= 2 for labels in one["dice"]))
    search.fill(designs[4]["id"][:6])
    expect(lambda one: one is designs[4])
    search.fill("no such thing")
    assert "No design passes" in tab.locator("#table").inner_text()
    tab.locator("#reset").click()
    told(tab, "#shown", "")
    tab.locator(".limits summary").click()
    tab.locator("[name='different-1']").fill("10")
    expect(lambda one: len(set(one["dice"][1])) <= 10)
    tab.locator("[name='greatest-0']").fill("9")
    expect(lambda one: len(set(one["dice"][1])) <= 10 and max(one["dice"][0]) <= 9)
    tab.locator("#reset").click()
    tab.locator("[name='repeats-1']").fill("2")
    expect(lambda one: max(Counter(one["dice"][1]).values()) <= 2)


def test_ordinary_designs_can_be_told_apart(show: Show, sample: ModuleType) -> None:
    run = sample.choice()
    tab = show(run)
    assert "ordinary" in column(tab, "rank")[0]
    tab.locator("[name='ordinary']").select_option("ordinary")
    assert len(column(tab, "rank")) == sum(one["ordinary"] for one in run[1]) == 1
    tab.locator("[name='ordinary']").select_option("new")
    assert len(column(tab, "rank")) == len(run[1]) - 1


def test_a_set_of_a_choice_is_chosen(show: Show, sample: ModuleType) -> None:
    summary, designs = run = sample.choice()
    tab = show(run)
    tab.locator("button[data-set='1']").click()
    assert tab.locator("[name='set']").input_value() == "1"
    assert len(column(tab, "rank")) == summary["sets"][1]["count"] == sum(one["set"] == 1 for one in designs)
    assert set(tab.locator(".die-tag").all_inner_texts()) == {"d4", "d9"}


def test_every_outcome_is_right(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run, at=f"#{designs[3]['id']}")
    down, across = designs[3]["dice"]
    cells = [int(x) for x in tab.locator(".outcomes td[data-result]").all_inner_texts()]
    assert cells == [a + b for a in down for b in across]
    assert [int(x) for x in tab.locator(".outcomes tbody th").all_inner_texts()] == down
    assert [int(x) for x in tab.locator(".outcomes thead th").all_inner_texts()] == across


def test_equal_results_light_up_together(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run)
    down, across = designs[0]["dice"]
    ways = Counter(a + b for a in down for b in across)
    tab.hover(".outcomes td[data-place='2 3']")
    result = down[2] + across[3]
    assert tab.locator(".outcomes td.lit").all_inner_texts() == [str(result)] * ways[result]
    assert tab.locator("#columns rect.lit").count() == 1
    readout = tab.locator("#readout").inner_text()
    assert readout.startswith(
        f"{down[2]} + {across[3]} = {result}. {result} comes up in {ways[result]} ways of 96"
    )
    tab.mouse.move(2, 2)
    assert tab.locator(".outcomes td.lit").count() == 0
    tab.locator(".outcomes td[data-place='0 0']").focus()
    press(tab, 2, "ArrowRight")
    tab.keyboard.press("ArrowDown")
    result = down[1] + across[2]
    assert tab.locator(".outcomes td.lit").count() == ways[result]
    assert tab.locator("#readout").inner_text().startswith(f"{down[1]} + {across[2]} = {result}.")


def test_the_columns_are_read_by_keys(show: Show, sample: ModuleType) -> None:
    tab = show(sample.harbour())
    tab.locator("#columns svg").focus()
    tab.keyboard.press("End")
    assert tab.locator("#readout").inner_text().startswith("20 comes up in 1 way of 96")
    press(tab, 3, "ArrowLeft")
    assert tab.locator("#readout").inner_text().startswith("17 comes up in 4 ways of 96 (4.2%), as wanted")
    assert tab.locator(".outcomes td.lit").count() == 4


def test_exact_and_not_exact_are_told(show: Show, sample: ModuleType) -> None:
    exact = show(sample.harbour())
    assert exact.locator("#exact").inner_text() == "Exact. Every column meets its line."
    assert exact.locator("#columns rect.miss").count() == 0
    summary, designs = run = sample.nearest()
    off = show(run)
    found, wanted = sample.ways_of(designs[0]["dice"]), dict(map(tuple, summary["target"]["ways"]))
    missed = sum(found.get(r, 0) * 25 != wanted.get(r, 0) * 16 for r in {*found, *wanted})
    assert off.locator("#columns rect.miss").count() == missed > 0
    assert f"Off by {designs[0]['distance']}." in off.locator("#exact").inner_text()
    assert column(off, "distance")[0] == designs[0]["distance"]
    off.locator(".numbers summary").click()
    rows = [row.split("\t") for row in off.locator(".numbers tbody").inner_text().splitlines()]
    assert {int(row[0]): int(row[1]) for row in rows} == {r: found.get(r, 0) for r in {*found, *wanted}}


def test_keys_move_through_the_list(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.six_dice()
    tab = show(run)
    body = tab.locator(".tabulator-tableholder")
    body.focus()
    press(tab, 3, "ArrowDown")
    tab.keyboard.press("ArrowUp")
    ids = [one["id"] for one in designs]
    assert tab.evaluate("location.hash") == f"#{ids[2]}"
    tab.keyboard.press("End")
    assert tab.evaluate("location.hash") == f"#{ids[-1]}"
    tab.wait_for_selector(f"#row-{ids[-1]}.chosen")
    assert body.get_attribute("aria-activedescendant") == f"row-{ids[-1]}"
    tab.keyboard.press("Enter")
    assert tab.evaluate("document.activeElement.id") == "card"
    tab.keyboard.press("Tab")
    tab.keyboard.press("ArrowUp")
    assert tab.evaluate("location.hash") == f"#{ids[-2]}"
    assert tab.locator("#card .die").count() == 6
    assert tab.locator(".outcomes, .outcomes-canvas").count() == 0


def test_an_address_opens_its_design(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run, at=f"#{designs[6]['id'][:5]}")
    assert title(tab) == f"Design {designs[6]['id'][:4]}"
    assert tab.locator(".tabulator-row.chosen").get_attribute("id") == f"row-{designs[6]['id']}"
    tab.evaluate(f"location.hash = '{designs[2]['id']}'")
    told(tab, "#card h2", re.compile(designs[2]["id"][:4]))
    lost = show(run, at="#%E0%A4%A")
    assert title(lost) == f"Design {designs[0]['id'][:4]}"


def test_copies(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run, permissions=["clipboard-read", "clipboard-write"])
    tab.get_by_role("button", name="Copy labels").click()
    told(tab, ".copied", "Copied labels.")
    lines = tab.evaluate("navigator.clipboard.readText()").splitlines()
    assert [[int(x) for x in line.split()] for line in lines] == designs[0]["dice"]
    tab.get_by_role("button", name="Copy JSON").click()
    told(tab, ".copied", "Copied JSON.")
    copied = json.loads(tab.evaluate("navigator.clipboard.readText()"))
    assert copied["id"] == designs[0]["id"]
    assert [die["labels"] for die in copied["dice"]] == designs[0]["dice"]
    assert copied["scores"] == designs[0]["scores"]


def test_the_factors_multiply_to_the_dice(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run, at=f"#{designs[1]['id']}")
    tab.locator("details.split summary").click()
    tab.locator(".product").first.wait_for()
    products = tab.locator(".product").all_inner_texts()
    raised = {sign: str(at) for at, sign in enumerate("⁰¹²³⁴⁵⁶⁷⁸⁹")}

    def value(text: str, x: int) -> int:
        plain = re.sub("[⁰¹²³⁴⁵⁶⁷⁸⁹]+", lambda found: "**" + "".join(raised[sign] for sign in found[0]), text)
        plain = plain.replace("−", "-").replace("·", "*").replace(")(", ")*(")
        plain = re.sub(r"(\*\*\d+)\(", r"\1*(", plain)
        return int(eval(plain, {"__builtins__": {}}, {"x": x}))  # our own page's text, in a test

    for text, labels in zip(products, designs[1]["dice"], strict=True):
        for x in (2, 3, 10):
            assert value(text.split("=", 1)[1], x) == sum(x**label for label in labels)


def test_a_great_pair_is_drawn_and_read(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.great(956)
    tab = show(run, at=f"#{designs[5]['id']}")
    assert tab.locator(".tabulator-row").count() < 80
    tab.locator(".outcomes-canvas").focus()
    tab.keyboard.press("Home")
    press(tab, 4, "ArrowRight")
    down, across = designs[5]["dice"]
    if len(set(down)) > len(set(across)):
        down, across = across, down
    ways = sample.ways_of(designs[5]["dice"])
    found = re.match(
        r"(-?\d+) \+ (-?\d+) = (-?\d+)\. \S+ comes up in (\d+)",
        tab.locator("#readout").inner_text().replace("−", "-"),
    )
    assert found
    row, col, total, said = map(int, found.groups())
    assert {row, col} == {min(down), sorted(set(across))[4]}
    assert total == row + col
    assert said == ways[total]
    tab.locator("[name='text']").fill(designs[900]["id"][:8])
    told(tab, "#shown", "1 of 956 shown")


def test_none_says_why_and_nothing_else(show: Show, sample: ModuleType) -> None:
    summary, _ = run = sample.nothing()
    tab = show(run)
    assert tab.locator(".reason").inner_text() == summary["reason"]
    assert (
        float(tab.locator(".reason").evaluate("(node) => parseFloat(getComputedStyle(node).fontSize)")) >= 20
    )
    assert tab.locator("table, .tabulator, #card").count() == 0
    assert tab.locator("#target rect.column").count() == 11
    tab.locator(".proof summary").click()
    assert tab.locator(".proof li").count() == len(summary["proof"])


@pytest.mark.parametrize("name", ["harbour", "six_dice", "choice", "nothing", "nearest"])
def test_a_phone_scrolls_down_only(show: Show, sample: ModuleType, name: str) -> None:
    tab = show(getattr(sample, name)(), **PHONE)
    tab.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    assert tab.evaluate("document.documentElement.scrollWidth") <= 360
    wide = tab.evaluate(
        """() => [...document.querySelectorAll("body *")].filter((node) => {
          const box = node.getBoundingClientRect();
          return box.width && box.right > 361 && !node.closest(".scroll, .tabulator-tableholder, .skip, svg");
        }).map((node) => `${node.tagName}.${node.className}`)"""
    )
    assert wide == []


def test_a_tap_opens_and_lights(show: Show, sample: ModuleType) -> None:
    _, designs = run = sample.harbour()
    tab = show(run, **PHONE)
    tab.locator(f"#row-{designs[2]['id']}").tap()
    assert title(tab) == f"Design {designs[2]['id'][:4]}"
    tab.locator(".outcomes td[data-place='0 0']").tap()
    assert tab.locator(".outcomes td.lit").count() == 1
    assert tab.locator("#readout").inner_text().startswith("1 + 1 = 2.")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", ["harbour", "six_dice", "choice", "nothing", "nearest"])
def test_text_stands_out_from_its_ground(show: Show, sample: ModuleType, name: str, scheme: str) -> None:
    """WCAG 2.2, success criterion 1.4.3: a contrast of at least 4.5 for text, here whatever its size."""
    tab = show(getattr(sample, name)(), color_scheme=scheme, reduced_motion="reduce")
    tab.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    if name == "harbour":
        tab.locator(".outcomes td[data-place='3 3']").hover()
        assert tab.locator(".outcomes td.lit").count() > 1
    found = tab.evaluate(CONTRASTS)
    assert len(found) > 15
    assert [one for one in found if one[0] < 4.5] == []


def test_the_page_follows_the_readers_system(show: Show, sample: ModuleType) -> None:
    run = sample.harbour()
    ground = "getComputedStyle(document.body).backgroundColor"
    assert show(run, color_scheme="light").evaluate(ground) != show(run, color_scheme="dark").evaluate(ground)


@pytest.mark.parametrize(
    ("name", "scheme"),
    [
        ("harbour", "light"),
        ("harbour", "dark"),
        ("six_dice", "light"),
        ("choice", "light"),
        ("nearest", "light"),
    ],
)
def test_paper_takes_two_pages(
    show: Show, sample: ModuleType, tmp_path: Path, name: str, scheme: str
) -> None:
    tab = show(getattr(sample, name)(), color_scheme=scheme)
    pdf = tab.pdf(prefer_css_page_size=True, print_background=True)
    assert len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) == 2
    boxes = set(re.findall(rb"/MediaBox\s*\[([^\]]*)\]", pdf))
    sizes = {tuple(round(float(x)) for x in box.split()) for box in boxes}
    assert sizes == {(0, 0, 595, 842)}
    tab.emulate_media(media="print", color_scheme=scheme)
    assert tab.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert not tab.locator(".list").is_visible()
    assert tab.locator(".print-list").is_visible()
    assert tab.locator(".page-foot li").first.is_visible()


def test_parts_of_the_page_have_names(show: Show, sample: ModuleType) -> None:
    tab = show(sample.choice())
    assert tab.get_by_role("main").count() == 1
    assert tab.get_by_role("banner").count() == 1
    assert tab.get_by_role("contentinfo").count() == 1
    assert tab.get_by_role("heading", level=1).count() == 1
    nameless = tab.evaluate(
        """() => [...document.querySelectorAll("input, select, button, canvas, svg[role=img]")]
          .filter((node) => !(node.labels?.length || node.getAttribute("aria-label") || node.textContent.trim()))
          .map((node) => node.outerHTML)"""
    )
    assert nameless == []
    ids = tab.evaluate("[...document.querySelectorAll('[id]')].map((node) => node.id)")
    assert [one for one, times in Counter(ids).items() if times > 1] == []


@pytest.mark.parametrize("width", [1000, 820])
def test_the_list_is_drawn_anew_for_another_width(show: Show, sample: ModuleType, width: int) -> None:
    _, designs = run = sample.harbour()
    tab = show(run, at=f"#{designs[4]['id']}")
    tab.locator("[name='text']").fill("5")
    before = column(tab, "rank")
    tab.set_viewport_size({"width": width, "height": 800})
    tab.wait_for_timeout(400)
    assert tab.evaluate("document.documentElement.scrollWidth") <= width
    assert column(tab, "rank") == before
    assert title(tab) == f"Design {designs[4]['id'][:4]}"


def test_bare_designs_of_an_unknown_reading_still_open(show: Show) -> None:
    coin = {"faces": 2, "solid": "coin", "copies": 1, "name": "tug"}
    summary = {
        "title": "Bare", "run": "bare", "verdict": "partial", "sentence": "One was found.", "read": "each-beats-next",
        "sets": [{"dice": [coin] * 3, "count": None}], "cautions": ["Take care."],
    }  # fmt: skip
    design = {
        "id": "ab" * 8,
        "rank": 1,
        "dice": [[1, 4], [2, 3], [-2, 90000]],
        "chance": "1/2",
    }
    tab = show((summary, [design]))
    assert tab.locator("#card .die").count() == 3
    assert "tug, 2 faces" in tab.locator("#card").inner_text()
    assert tab.locator("#columns").count() == 0
    assert column(tab, "chance") == ["1/2"]
