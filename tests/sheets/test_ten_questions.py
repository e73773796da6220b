"""Ten questions that a reader must be able to answer from the site alone, each answered in the place named for it.

A question is put to every demo house.  Its answer is looked for by the names and values of its figures, and by the
few words that it turns on, so that no change of the sheets loses one.

Parts that wait: the cases of One price once more, and the last day and the address for a cancelled contract, on the
sheet of the agreement; what a bid of the reader's own leaves open, in a line of its own under each row.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import pytest
from msgspec.structs import replace

from sitegen.dates.cancellation import last_day_to_cancel
from sitegen.figure import Figure, day_of, int_of
from sitegen.offer.chances import Chance, Counted
from sitegen.offer.money import OptionMoney
from sitegen.survey.rule_sets import rule_set
from tests.built import House, Place

START, REPORT, COMPARE, PAY, WHO = "index.html", "report.html", "compare.html", "what-you-could-pay.html", "who.html"


def section(house: House, sheet: str, name: str) -> Place:
    """The section of a sheet that is headed by the heading of this id."""
    return house.place(sheet, f'section[aria-labelledby="{name}"]')


@dataclass(frozen=True)
class Answer(Place):
    """The answer of an option in a row of the comparison.  A cell that neighbors share has the figures of the first."""

    option: str
    first: str

    def holds(self, *figures: Figure | None) -> None:
        """Fail unless each of these figures stands there, under the name of the option that the cell begins with."""
        mine, theirs = f"options.{self.option}.", f"options.{self.first}."
        super().holds(*(figure and replace(figure, name=figure.name.replace(mine, theirs)) for figure in figures))


def answers(house: House, row: str) -> dict[str, Answer]:
    """The answer of each option in a row of the comparison, by the option's key; a cell that neighbors share stands
    for each of them."""
    options, found = house.offer.outcome.options, dict[str, Answer]()
    for cell in house.at(COMPARE, f"tr[data-row={row}] > td"):
        some = options[len(found):][:int(str(cell.get("colspan", 1)))]
        found |= {option.key: Answer(f"{house.job}, row {row}, {option.name}", cell, option.key, some[0].key)
                  for option in some}
    assert list(found) == [option.key for option in options]
    return found


def one_price(house: House) -> OptionMoney:
    """The option that covers every point; each demo house has one."""
    one = house.offer.outcome.one_price
    assert one
    return one


def spoken(place: Place, chance: Chance | Counted | None) -> None:
    """Fail unless a judged chance stands in a place in all three views, and is said to be no count."""
    assert isinstance(chance, Chance), place.name
    place.holds(*(view.count for view in chance.views), chance.whole)
    place.says("our judgment, not a count")


def test_1_what_is_the_most_that_you_could_pay_this_firm(house: House) -> None:
    """Sheet 3 in the row of the most, and sheet 4, for each option; One price also on sheet 1.

    A list has no limit in the contract, and says so beside what it comes to when all that could be old is.
    """
    cells, hidden = answers(house, "most"), house.offer.outcome.hidden
    for option in house.offer.outcome.options:
        cells[option.key].holds(option.most_paid)
        house.place(PAY, ".money").holds(option.price, option.p10, option.p90, option.most_paid)
        if option.covers_all:
            cells[option.key].says("plus what you choose to add")
        else:
            cells[option.key].holds(hidden.most)
            cells[option.key].says("The contract sets no limit", "more if a surprise comes up")
    prices = house.place(START, ".prices")
    prices.holds(one_price(house).most_paid)
    prices.says("Can it rise?", "YES, no cap")


def test_2_what_can_raise_the_one_price_and_what_is_the_cap(house: House) -> None:
    """Sheet 3, in the row of what can raise a price: every case by name, and the cap; no case of the price book is left
    out."""
    one, cells = one_price(house), answers(house, "rise")
    assert one.cases
    cells[one.key].says("YES", "at most", "We pay for more old wiring", *(case.called.text for case in one.cases))
    cells[one.key].holds(one.case_cap)
    for option in house.offer.outcome.options:
        cells[option.key].says(*(case.called.text for case in option.cases))
        if not option.covers_all:
            cells[option.key].says("no cap", "You pay for more old wiring, and you sign for it first")
            cells[option.key].holds(option.each_point, option.each_feed, option.each_blocked)


def test_3_what_is_the_least_that_you_could_do_and_what_would_it_leave(house: House) -> None:
    """Sheet 2, other choices: each finding that can be answered by itself, then protected and marked outlets, where the
    town allows it; each with its price and what it leaves.

    Where outlets are old or named in the report, they are counted and the sum stands there.
    """
    other, smaller = section(house, REPORT, "report-four"), house.offer.smaller
    other.holds(smaller.each, *((smaller.outlets, smaller.protect) if smaller.protect else ()),
                *(one.price for one in smaller.alone))
    assert (smaller.protect is None) == (int_of(smaller.outlets) == 0)
    other.says("Protect and mark", "The town must allow it", "no ground", "the old wiring stays",
               "an insurer may not accept it", *(one.leaves.text for one in smaller.alone))
    assert len(other.tag.select("dt")) == 4 + len(smaller.alone), "one of the other choices is gone"
    assert house.at(START, 'a[href="report.html#report-four"]')


def test_4_what_is_in_the_walls_if_you_add_nothing_and_how_sure_is_it(house: House) -> None:
    """Sheet 3 in the row of what stays live, and sheet 4: how many, from how few to how many, and that it is a
    judgment.

    A nought and a one are said in words.  What is known today is a count, and is said apart from the judgment.
    """
    hidden, middle = house.offer.outcome.hidden, int_of(house.offer.outcome.hidden.p50)
    spread = {0: (), 1: (hidden.p10, hidden.p90)}.get(middle, (hidden.p50, hidden.p10, hidden.p90))
    for option in house.offer.outcome.options:
        cell = answers(house, "live")[option.key]
        if option.covers_all:
            cell.says("None that we can find")
            continue
        cell.says("If you add nothing", "our judgment, not a count", *(() if middle else ("most likely none",)))
        cell.holds(*spread, *((hidden.known,) if int_of(hidden.known) else ()))
        if not middle and int_of(hidden.p90):
            cell.holds(hidden.p90)
    live = section(house, PAY, "pay-live")
    live.says("stay live" if middle > 1 else "stays live", "our judgment, not a count")
    live.holds(*(spread or (hidden.p90,)))


def test_5_when_are_old_wires_dead_and_all_finished_and_what_can_you_send(house: House) -> None:
    """Sheets 1, 2 and 3: both dates, the two letters with their days, and who decides.

    Sheet 1 dates each option for both ways of living in the house, so that no option is seen without its date.
    """
    dates = house.offer.dates
    first = house.place(START, ".first")
    first.holds(*(day for option in dates.options.values() for day in (option.dead, option.other.dead)))
    for option in house.offer.outcome.options:
        (row,) = (row for row in house.at(START, ".due tbody tr") if row.th and row.th.get_text() == option.name)
        when = dates.options[option.key]
        (empty,), (stay,) = row.select("td.if-empty data"), row.select("td.if-lived-in data")
        days = (when.other.dead, when.dead) if dates.lived_in else (when.dead, when.other.dead)
        assert [empty["data-figure"], stay["data-figure"]] == [day.name for day in days]
    if dates.deadline and house.offer.holder.owner_now:
        first.holds(dates.deadline.by)
        days = [day_of(day) for option in dates.options.values() for day in (option.dead, option.other.dead)]
        first.says("ask for more time" if max(days) > day_of(dates.deadline.by) else "in time")
    letters, second = section(house, REPORT, "report-letter"), section(house, REPORT, "report-second")
    letters.says("when you sign" if house.offer.holder.owner_now else "as soon as you choose, before you own the house")
    section(house, REPORT, "report-cannot").says("They decide")
    for option in house.offer.outcome.options:
        when, row = dates.options[option.key], answers(house, "letter")[option.key]
        letters.holds(when.dead, when.finished)
        second.holds(when.dead)
        row.holds(when.dead)
        row.says("When you sign, we can send a letter", "second letter")
        answers(house, "dates")[option.key].holds(when.dead, when.finished)


def test_6_who_paints_and_when_may_they_start(house: House) -> None:
    """The note on sheet 1, and sheet 3 in the rows of what is bought elsewhere and of the dates: paint is in no option,
    and the day from which it may begin; who leaves the holes open gives no day, and says who closes them."""
    house.place(START, ".prices").says("Painting is extra")
    for option in house.offer.outcome.options:
        answers(house, "later")[option.key].says("paint")
        ready = house.offer.dates.options[option.key].ready_for_paint
        if house.offer.terms[option.key].closes_holes == "us":
            assert ready, "who closes the holes knows when they are dry"
        if ready:
            answers(house, "dates")[option.key].holds(ready)
            answers(house, "dates")[option.key].says("ready for paint about")
        else:
            answers(house, "holes")[option.key].says("You close them. Our price to close")


def test_7_at_what_number_does_per_item_become_the_cheaper_option(house: House) -> None:
    """Sheet 4, before any of its sections: the counts at which the answer turns, or that it does not turn on the count
    at usual costs."""
    turns, one = house.place(PAY, ".evens"), one_price(house)
    assert turns.tag.find_previous("section") is None, "it is no longer the first thing on the sheet"
    even = next(even for even in house.offer.outcome.break_even if even.key == "per-item")
    assert even == house.offer.outcome.break_even[0]
    if even.settled:
        cheaper, other = (even.name, one.name) if even.usual_list else (one.name, even.name)
        turns.says(f"At usual costs, {cheaper} costs the same as {other}, or less, at every count")
    else:
        turns.holds(*filter(None, (even.list_up_to, even.price_from)))
        for count, words, cheaper, other in ((even.list_up_to, "or fewer", even.name, one.name),
                                             (even.price_from, "or more", one.name, even.name)):
            if count:
                turns.says(words, f"{cheaper} ends up costing the same as {other}, or less")


def test_8_is_it_a_count_or_an_opinion_whose_and_what_would_move_it(house: House) -> None:
    """Sheet 4 and sheet 8: a judgement, by whom and when, beside what finished jobs were counted to say, under other
    views, and what tracing would settle."""
    outcome, again, counted = house.offer.outcome, section(house, PAY, "pay-again"), house.offer.finished
    for option in outcome.options:
        spoken(section(house, PAY, "pay-often"), option.cheapest)
        if not option.covers_all:
            spoken(again, option.above_one_price)
    again.says("half as many", "twice as many", "finished jobs")
    assert counted
    again.holds(counted.jobs, counted.feeds.some, counted.feeds.all)
    section(house, WHO, "who-finished").holds(counted.jobs, counted.fit.inside, counted.fit.expected,
                                              outcome.prior.on)
    for place in (house.place(PAY, "#pay-from-judgement"), section(house, WHO, "who-method")):
        place.holds(outcome.prior.on)
        place.says(outcome.prior.by.text, "judg")
    section(house, WHO, "who-finished").says("cannot show a small error")
    assert outcome.tracing
    section(house, PAY, "pay-tracing").holds(outcome.tracing.price, *(swing.amount for swing in outcome.tracing.swings))


def test_9_until_when_and_how_can_you_cancel(house: House) -> None:
    """Sheet 1: that the right exists, for how many days, how, where, and with two forms in hand; sheet 4: the last day.

    The day and the address stand on the sheet of the agreement once there is one.
    """
    dates, firm = house.offer.dates, house.offer.firm
    first = house.place(START, ".first")
    first.holds(dates.cancel_days)
    first.says("until midnight of the last one", "Saturday is a business day",
               "Sundays and federal holidays are not")
    how = section(house, START, "start-sign")
    how.holds(dates.cancel_days)
    how.says("you can cancel", "any writing will do", firm.address.text, firm.e_mail.text, "two cancel forms")
    when = house.place(PAY, "#pay-cancel")
    when.holds(dates.sign_by, dates.cancel_until)
    when.says("you can cancel until midnight")


def test_9_signed_on_a_tuesday_it_can_be_cancelled_until_friday() -> None:
    """Signed, with the copy in hand, on Tuesday 17 November 2026: until midnight of Friday 20 November."""
    rules = rule_set("2023")
    signed = date(2026, 11, 17)
    assert last_day_to_cancel(signed, signed, rules.cancel, rules.holidays).day == date(2026, 11, 20)


def test_10_is_a_bid_that_is_silent_dearer_or_cheaper(house: House) -> None:
    """Sheet 1 says to ask where a bid is silent, and the rows to ask about stand by name on sheet 3."""
    now = section(house, START, "start-now")
    now.says("Set your other bids beside these", "Where a bid is silent, ask")
    counted = [value for name, value, _ in now.figures() if name == "rows.count"]
    assert counted == [str(len(house.at(COMPARE, "tr[id^=compare-row-]")))]
    for row, question in (("holes", "who closes them?"), ("lead", "What is done about lead dust?"),
                          ("firm", "under what permit, license and insurance?")):
        house.place(COMPARE, f"tr[data-row={row}] th b").says(question)


@pytest.mark.parametrize("change", ["value", "words", "name"])
def test_an_answer_that_is_lost_would_be_seen(house: House, change: str) -> None:
    """A figure with another value, in other words or of another name does not answer a question."""
    price = house.offer.outcome.options[0].price
    other = {"value": Figure(price.name, 1, "cents", "One cent.", price.source),
             "words": Figure(price.name, int(str(price.value)) + 1, "cents", "A cent more.", price.source),
             "name": Figure("options.other.price", price.value, "cents", "Another.", price.source)}[change]
    place = house.place(START, ".prices")
    place.holds(price)
    with pytest.raises(AssertionError, match="lacks"):
        place.holds(other)
    with pytest.raises(AssertionError, match="does not say"):
        place.says("words that stand nowhere")
