"""Rates: the shipped ones are sound, a file of one's own goes over them part by part, and every fault comes at once."""

from __future__ import annotations

import tomllib

import pytest
from facewright.constraints.brief.faults import Faults
from facewright.constraints.brief.rates import rates_in
from facewright.constraints.rates import SHIPPED, Rates, shipped
from hypothesis import given, settings
from hypothesis import strategies as st


def faults_of(text: str) -> dict[str, tuple[int, str, str]]:
    faults = Faults()
    assert rates_in(text, faults) == shipped()
    return {one.key: (one.line, one.found, one.accepted) for one in faults.located()}


def read(text: str) -> Rates:
    faults = Faults()
    rates = rates_in(text, faults)
    assert faults.located() == ()
    return rates


def test_the_shipped_file_is_itself_a_file_of_ones_own() -> None:
    assert read(SHIPPED.read_text(encoding="utf-8")) == shipped()
    assert Rates.from_form(shipped().to_form()) == shipped()


def test_every_shipped_rate_has_a_unit_a_source_and_values_in_order() -> None:
    for key, rate in shipped().rates:
        assert rate.low <= rate.likely <= rate.high, key
        assert rate.unit, key
        assert rate.source, key
        # all money is made up, and says so
        if rate.unit.startswith("EUR"):
            assert rate.source.startswith("invented for the demo"), key


def test_part_by_part() -> None:
    found = read(
        '[cast]\nresin = { likely = 14.5, unit = "EUR a kg", source = "quote" }\n'
        'pulls = { low = 20, unit = "pulls a mould" }\n'
    )
    resin, pulls = found.by_key["cast.resin"], found.by_key["cast.pulls"]
    assert (resin.low, resin.likely, resin.high, resin.source, resin.sure) == (
        14.5,
        14.5,
        14.5,
        "quote",
        True,
    )
    assert (pulls.low, pulls.likely, pulls.high, pulls.source) == (20, 50, 100, "your own file")
    changed = {"cast.resin", "cast.pulls"}
    assert {key for key, rate in found.rates if rate != shipped().by_key[key]} == changed


def test_all_faults_at_once_each_with_its_line() -> None:
    found = faults_of(
        'currency = "Euro"\n'  # 1
        'stocked = ["cubus"]\n'  # 2
        "[cast]\n"
        'resin = { likely = -3, unit = "EUR a kg" }\n'  # 4
        "pulls = { likely = 40 }\n"  # 5
        'pour = { likely = 4, unit = "min a filling" }\n'  # 6
        'rejects = { likely = 1.0, unit = "share of the dice made" }\n'  # 7
        'finish = { low = 9, likely = 5, high = 2, unit = "s a die" }\n'  # 8
        'cavities = { likely = 0, unit = "dice a mould" }\n'  # 9
        "wate = 3\n"  # 10
        'silicone = { unit = "EUR a litre" }\n'  # 11
        "density = 1.1\n"  # 12
        "[moulds]\n"  # 13
        "[general]\n"
        'labour = { likely = nan, unit = "EUR an hour" }\n'  # 15
        'freight = { likely = inf, unit = "EUR a kg", sauce = "x" }\n'  # 16
    )
    assert {key: line for key, (line, _, _) in found.items()} == {
        "currency": 1,
        "stocked[1]": 2,
        "cast.resin.likely": 4,
        "cast.pulls.unit": 5,
        "cast.pour.unit": 6,
        "cast.rejects.likely": 7,
        "cast.finish": 8,
        "cast.cavities.likely": 9,
        "cast.wate": 10,
        "cast.silicone": 11,
        "cast.density": 12,
        "moulds": 13,
        "general.labour.likely": 15,
        "general.freight.likely": 16,
        "general.freight.sauce": 16,
    }
    assert found["cast.resin.likely"][1] == "-3"
    assert found["cast.pulls.unit"][1:] == ("nothing: the unit is missing", 'unit = "pulls a mould"')
    assert found["cast.pour.unit"][2] == 'unit = "s a filling"'
    assert "waste" in found["cast.wate"][2]
    assert "low ≤ likely ≤ high" in found["cast.finish"][2]
    assert "nearest known key is mould" in found["moulds"][2]


def test_a_range_that_the_shipped_values_spoil_says_so() -> None:
    found = faults_of('[cast]\npulls = { likely = 500, low = 400, unit = "pulls a mould" }\n')
    assert found["cast.pulls"][1] == "low 400, likely 500, high 100 (high as shipped)"


def test_temperatures_must_stand_in_order() -> None:
    found = faults_of('[mould]\neject = { likely = 65, unit = "°C" }\n')
    assert "wall up to 70 °C" in found["mould.eject"][1]


def test_another_currency_needs_all_money() -> None:
    found = faults_of('currency = "GBP"\n[cast]\nresin = { likely = 12, unit = "GBP a kg" }\n')
    assert "general.labour" in found["currency"][2]
    # a unit in the old currency is at fault first
    assert "cast.resin.unit" in faults_of(
        'currency = "GBP"\n[cast]\nresin = { likely = 12, unit = "EUR a kg" }\n'
    )
    text = SHIPPED.read_text(encoding="utf-8").replace("EUR", "GBP")
    assert read(text).currency == "GBP"


@pytest.mark.parametrize("text", ["[cast", "cast = 3", "[[cast]]\nresin = 1", '"\\ud800" = 1', "a" * 100])
def test_files_that_are_none(text: str) -> None:
    assert faults_of(text)


@given(
    st.sampled_from([key for key, _ in shipped().rates]),
    st.dictionaries(
        st.sampled_from(["low", "likely", "high", "unit", "source", "x"]),
        st.floats() | st.integers() | st.text(max_size=5) | st.booleans(),
    ),
)
@settings(max_examples=150)
def test_whatever_stands_in_a_file_it_is_sound_or_refused(key: str, values: dict[str, object]) -> None:
    table, _, name = key.partition(".")
    faults = Faults()
    from facewright.constraints.brief.rates import rates_over

    if "unit" in values:
        values = {**values, "unit": shipped().by_key[key].unit}
    found = rates_over(shipped(), {table: {name: values}}, faults)
    if faults:
        assert found == shipped()
    else:
        rate = found.by_key[key]
        assert 0 <= rate.low <= rate.likely <= rate.high or rate.unit == "°C"


def test_the_file_says_how_it_is_copied() -> None:
    text = SHIPPED.read_text(encoding="utf-8")
    sample = "\n".join(line[1:].strip() for line in text.splitlines() if line.startswith("#   "))
    assert tomllib.loads(sample)
    assert read(sample).by_key["cast.resin"].likely == 14
