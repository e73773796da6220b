"""What gives the text of a file its meaning: each type, what it takes and what it refuses."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from pydantic_core import PydanticCustomError

from sitegen.job import fields, measures, text_type
from sitegen.job.load import BUILT_IN
from sitegen.job.text_type import one_of, several
from tests.helpers import BadJob, bad_jobs, demo_copy, faults, read_job

REFUSED: dict[str, tuple[Callable[[Any], object], Any]] = {
    "words": (fields.words, ""), "count": (fields.count, "-1"), "money": (fields.money, "3,200"),
    "day": (fields.day, "2026-02-30"), "month": (fields.month, "2026-13"), "decade": (fields.decade, "1910"),
    "yes_no": (fields.yes_no, "Yes"), "answer": (one_of("a", "b").read, "c"),
    "chance": (fields.chance, "6 %"), "share": (fields.share, "1/0"), "size": (measures.size, "4 m x 5 m"),
    "area": (measures.area, "230 m2"), "length": (measures.length, "9"), "lengths": (measures.lengths, "9 ft + 4"),
    "place": (measures.place, "0, 14"), "square_inches": (measures.square_inches, "24 in"),
    "cubic_inches": (measures.cubic_inches, "18"), "amperes": (measures.amperes, "60.5 A"),
    "draw": (measures.draw, "4.5 kVA"), "several": (several("a", "b").read, "a, c"),
    "name": (fields.name, "Pellam Ford"),
    "good_for": (measures.good_for, "a year"), "phone": (fields.phone, "ask Gus"),
    "web_address": (fields.web_address, "http://a.example"), "inside_path": (fields.inside_path, "../x.jpg"),
}
BUILT_IN_CASES = {
    "missing": ("job: alder-lane\n", "`version` is missing. Add it: counted up as it is sent out again: 1, 2, 3."),
    "extra_forbidden": ("jbo: alder-lane\n", "`jbo` is not a field here. Did you mean `job`?"),
    "model_type": ("why now: soon\n", "Got `soon`, needs lines of the form `key: value`. Write them below it, set in."),
    "model_attributes_type": ("house: [1]\n", "Got a list, needs lines of the form `key: value`. Write them below "
                                              "it, set in."),
    "dict_type": ("feeds: none\n", "Got `none`, needs lines of the form `key: value`. Write them below it, set in."),
    "list_type": ("rooms: none\n", "Got `none`, needs a list. Begin each line below it with a dash."),
}


@pytest.mark.parametrize("bad", bad_jobs("fields.yaml"), ids=lambda bad: bad.name)
def test_the_whole_message_is_said_at_the_right_line(tmp_path: Path, bad: BadJob) -> None:
    """A field that is wrong gets exactly these messages, at its line, and brings no others after it."""
    home = demo_copy(tmp_path)
    bad.make(home)
    assert sorted(faults(home)) == sorted(bad.expected(home))


@pytest.mark.parametrize("code", fields.CODES)
def test_every_code_of_a_field_has_its_two_sentences(code: str) -> None:
    """Each field type refuses under its own code, with what is wrong and the way out, and so it does for a list."""
    refuse, value = REFUSED[code]
    for given in (value, ["a list"], {"a": "part"}):
        with pytest.raises(PydanticCustomError) as error:
            refuse(given)
        assert error.value.type == code
        problem, _, remedy = error.value.message().partition("\n")
        assert problem.endswith(".")
        assert remedy.endswith(".")


@pytest.mark.parametrize("kind", BUILT_IN)
def test_every_built_in_error_has_a_sentence_of_ours(tmp_path: Path, kind: str) -> None:
    """No error of the library reaches a person in the library's words."""
    text, says = BUILT_IN_CASES[kind]
    home = demo_copy(tmp_path)
    (home / "alder-lane" / "job.yaml").write_text(text, "utf-8")
    assert any(fault.endswith(says) for fault in faults(home))


def test_every_custom_error_of_a_field_is_listed() -> None:
    """A code that is raised and not listed would be explained wrongly, so all are listed."""
    text = "".join(Path(module.__file__).read_text("utf-8") for module in (fields, measures, text_type))
    raised = set(re.findall(r'(?:refuse|as_text|_measured)\((?:value, )?"([a-z_]+)"', text))
    assert raised == set(fields.CODES)


@pytest.mark.parametrize("text", ["no", "12:30", "010", "1e3", "0x1f", "null", "~", "2026-01-01", "yes", "on", ".5"])
def test_nothing_is_guessed_where_words_are_wanted(tmp_path: Path, text: str) -> None:
    """What YAML would take for a truth value, a time or a number stays the words that were written."""
    home = demo_copy(tmp_path)
    job = home / "alder-lane" / "job.yaml"
    job.write_text(job.read_text("utf-8").replace("address: 61 Alder Lane, Pellam Ford", f"address: {text}"), "utf-8")
    assert read_job(home).address == text


@pytest.mark.parametrize(("text", "cents"), [("$0", 0), ("$3,200", 320_000), ("$3200", 320_000), ("$0.90", 90),
                                             ("$1,234,567.89", 123_456_789), (" $5 ", 500)])
def test_money_is_whole_cents(text: str, cents: int) -> None:
    """Dollars with or without thousands set apart become whole cents."""
    assert fields.money(text) == cents


@pytest.mark.parametrize("text", ["3200", "-$5", "$-5", "$ 5", "$1,00", "$1,2345", "$.50", "$5.5", "$5.", "$5.123",
                                  "5 dollars", "€5", "$1e3", "$٣", "$", "", "$1,000,0", "$9999999999"])
def test_what_is_no_amount_is_refused(text: str) -> None:
    """Money without a dollar sign, below nought, or with odd digits is refused."""
    with pytest.raises(PydanticCustomError):
        fields.money(text)


@pytest.mark.parametrize("text", ["-1", "01", "1.0", "1e3", "+1", "٣", "", "one", "12:30", "1,00", "99999999"])
def test_what_is_no_count_is_refused(text: str) -> None:
    """A count is plain digits, 0 or more, with no leading nought."""
    with pytest.raises(PydanticCustomError):
        fields.count(text)


@pytest.mark.parametrize("text", ["2026-2-3", "2026-13-01", "2025-02-29", "03/02/2026", "2026-W05-1", "20260203",
                                  "0000-01-01", "tomorrow", "٢٠٢٦-01-01"])
def test_what_is_no_day_is_refused(text: str) -> None:
    """A day is year, month, day with dashes and stands in a calendar."""
    with pytest.raises(PydanticCustomError):
        fields.day(text)


@pytest.mark.parametrize("text", ["../x.jpg", "/x.jpg", "a/../x.jpg", "a//x.jpg", "", "..", "a\\x.jpg", "a\0.jpg",
                                  "~/x.jpg:", "https://a.example/x.jpg", "a/", "photos/x.jpg\n../y"])
def test_a_file_is_inside_the_job(text: str) -> None:
    """No path leads out of the job's folder."""
    with pytest.raises(PydanticCustomError):
        fields.inside_path(text)


@pytest.mark.parametrize(("read", "text"), [
    (fields.count, "1٣"), (fields.chance, "٣ of 9"), (fields.share, "٣/4"), (measures.size, "1٣x14"),
    (measures.area, "٣ sq ft"), (fields.money, "$1.٣٣"), (measures.length, "٣ ft"), (measures.lengths, "9 ft + ٣ ft"),
    (measures.place, "0 ft, ٣ ft"), (measures.amperes, "٣ A"), (measures.square_inches, "٣ sq in")])
def test_digits_are_the_ten_plain_ones(read: Callable[[Any], object], text: str) -> None:
    """A digit of another script that only looks like a typing slip is refused and not read."""
    with pytest.raises(PydanticCustomError):
        read(text)


def test_values_are_exact() -> None:
    """Chances, parts, sizes, areas and days are exact values."""
    assert fields.chance("6 of 100") == Fraction(6, 100)
    assert fields.share("2 of 5") == Fraction(2, 5)
    assert fields.share("2/5") == Fraction(2, 5)
    assert measures.size("14x16") == (14, 16) == measures.size("14 ft x 16 ft")
    assert measures.size("9.25 ft x 14 ft")[0] == Fraction(37, 4)
    assert measures.area("2,460 sq ft") == 2460
    assert fields.day("2028-02-29") == date(2028, 2, 29)
    assert fields.count("1,234") == 1234


@pytest.mark.parametrize(("text", "feet"), [
    ("9 ft", 9), ("9 ft 4 in", Fraction(28, 3)), ("9ft4in", Fraction(28, 3)), ("38 in", Fraction(19, 6)),
    ("2 1/2 in", Fraction(5, 24)), ("9.25 ft", Fraction(37, 4)), ("1/2 in", Fraction(1, 24))])
def test_a_length_is_exact_feet(text: str, feet: Fraction) -> None:
    """Feet, inches and parts of an inch come to exact feet."""
    assert measures.length(text) == feet


@pytest.mark.parametrize("text", ["9", "9 feet", "9'", "-9 ft", "0 ft", "0 in", "ft", "in", "4 in 9 ft", "9 ft + 4 ft",
                                  "1/0 in", "2 m", "9 ft 4", "", "1e2 ft"])
def test_what_is_no_length_is_refused(text: str) -> None:
    """A length has its unit, is above nought and is one length."""
    with pytest.raises(PydanticCustomError):
        measures.length(text)


def test_lengths_places_and_measures_are_exact() -> None:
    """Several lengths keep their order, a corner of a house is nought, and areas, volumes and currents are exact."""
    assert measures.lengths("12 ft + 9 ft 6 in") == (12, Fraction(19, 2))
    assert measures.lengths("9 ft") == (9,)
    assert measures.place("0 ft, 14.5 ft") == (0, Fraction(29, 2))
    assert measures.square_inches("9.3 sq in") == Fraction(93, 10)
    assert measures.cubic_inches("21.5 cu in") == Fraction(43, 2)
    assert measures.amperes("1,200 A") == 1200
    assert measures.draw("4,500 VA") == measures.draw("4500.0 VA") == measures.Draw(4500, in_amperes=False)


@pytest.mark.parametrize(("label", "volts", "volt_amperes"), [
    ("30 A", 240, 7200), ("30 A", 120, 3600), ("7,200 VA", 240, 7200), ("7,200 VA", 120, 7200)])
def test_a_label_in_amperes_counts_at_its_volts(label: str, volts: int, volt_amperes: int) -> None:
    """30 A at 240 V are 7,200 VA, and what a label gives in VA stands as it is."""
    assert measures.draw(label).volt_amperes(volts) == volt_amperes


@pytest.mark.parametrize("label", ["0 A", "0 VA", "30", "30.5 A", "30 amps", "12 kW"])
def test_a_label_has_its_unit_and_is_whole(label: str) -> None:
    """An amount without a unit, a part of one and nought are refused."""
    with pytest.raises(PydanticCustomError):
        measures.draw(label)


def test_several_answers_are_each_named_once() -> None:
    """Answers with commas between them keep their order, and one said twice is one."""
    assert several("a", "b", "c").read("c, a, c") == ("c", "a")
    with pytest.raises(PydanticCustomError):
        several("a", "b").read("")


def test_words_have_an_end() -> None:
    """Words that would fill a phone many times over are refused, and the message stays short."""
    with pytest.raises(PydanticCustomError) as error:
        fields.words("x" * (fields.LONGEST + 1))
    assert error.value.message() == f"Got `{'x' * 57}...`, needs at most 2,000 characters.\nShorten it."
