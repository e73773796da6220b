"""Ten questions that a reader must be able to answer from the site alone, each answered in the place named for it.

A question is put to every demo house.  Its answer is looked for by the names and values of its figures, and by the
few words that it turns on, so that no change of the sheets loses one.

Parts that wait: the cases of One price once more, and the last day and the address for a cancelled contract, on the
sheet of the agreement; what a bid of the reader's own leaves open, in a line of its own under each row.
"""

from __future__ import annotations

from datetime import date

import pytest

from sitegen.dates.cancellation import last_day_to_cancel
from sitegen.figure import Figure, int_of
from sitegen.offer.chances import Chance, Counted
from sitegen.offer.money import OptionMoney
from sitegen.survey.rule_sets import rule_set
from tests.built import House, Place

START, REPORT, COMPARE, PAY, WHO = "index.html", "report.html", "compare.html", "what-you-could-pay.html", "who.html"


def section(house: House, sheet: str, name: str) -> Place:
    """The section of a sheet that is headed by the heading of this id."""
    return house.place(sheet, f'section[aria-labelledby="{name}"]')


def answers(house: House, row: int) -> dict[str, Place]:
    """The answer of each option in a row of the comparison, by the option's key; one that holds for all stands for
    each."""
    cells = house.at(COMPARE, f"#compare-row-{row} td")
    options = house.offer.outcome.options
    assert len(cells) in (1, len(options))
    return {option.key: Place(f"{house.job}, row {row}, {option.name}", cells[min(at, len(cells) - 1)])
            for at, option in enumerate(options)}


def one_price(house: House) -> OptionMoney:
    """The option that covers every point; each demo house has one."""
    one = house.offer.outcome.one_price
    assert one
    return one


def spoken(place: Place, chance: Chance | Counted | None) -> None:
    """Fail unless a judged chance stands in a place in all three views, and is said to be no count."""
    assert isinstance(chance, Chance), place.name
    place.holds(*(view.count for view in chance.views), chance.whole)
    place.says("Our judgement, not a count")


def test_1_what_is_the_most_that_you_could_pay_this_firm(house: House) -> None:
    """Sheet 3, row 3, for each option; One price also on sheet 1, and all three on sheet 4."""
    cells, hidden = answers(house, 3), house.offer.outcome.hidden
    for option in house.offer.outcome.options:
        cells[option.key].holds(option.most_paid)
        section(house, PAY, "pay-most").holds(option.most_paid)
        if option.covers_all:
            cells[option.key].says("plus what you choose to add")
        else:
            cells[option.key].holds(hidden.most)
            cells[option.key].says("No limit in the contract", "More if something else in row two happens")
    prices = house.place(START, ".prices")
    prices.holds(one_price(house).most_paid)
    prices.says("Can it rise?", "YES, no cap")


def test_2_what_can_raise_the_one_price_and_what_is_the_cap(house: House) -> None:
    """Sheet 3, row 2: every case by name, and the cap; no case of the price book is left out."""
    one = one_price(house)
    cell = answers(house, 2)[one.key]
    assert one.cases
    cell.says("YES", "at most", "More old wiring does not raise it", *(case.called.text for case in one.cases))
    cell.holds(one.case_cap)
    for option in house.offer.outcome.options:
        answers(house, 2)[option.key].says(*(case.called.text for case in option.cases))


def test_3_what_is_the_least_that_you_could_do_and_what_would_it_leave(house: House) -> None:
    """Sheet 2, other choices: protected and marked outlets, where the town allows it, and what that leaves."""
    other = section(house, REPORT, "report-four")
    other.holds(house.offer.protect_outlet)
    other.says("Protect and mark the ungrounded outlets", "The town must allow it", "no ground", "the old wire stays",
               "an insurer may not accept it")
    assert len(other.tag.select("dt")) == 4, "one of the four other choices is gone"
    assert house.at(START, 'a[href="report.html#report-four"]')


def test_4_what_is_in_the_walls_if_you_add_nothing_and_how_sure_is_it(house: House) -> None:
    """Sheet 3, row 10, and sheet 4: how many points stay live, from how few to how many, and that it is a judgement."""
    hidden = house.offer.outcome.hidden
    live = section(house, PAY, "pay-live")
    for option in house.offer.outcome.options:
        cell = answers(house, 10)[option.key]
        if option.covers_all:
            cell.says("None that we can find")
        else:
            cell.says("If you add nothing", "our judgement, not a count")
            if int_of(hidden.p50):
                cell.holds(hidden.p50, hidden.p10, hidden.p90, hidden.known)
            else:                           # a nought is said in words, and the most in 1 house of 10 as a number
                cell.holds(hidden.p90)
                cell.says("most likely none", "We know of none today")
    live.says("stays live" if not int_of(hidden.p50) else "stay live", "our judgement, not a count")
    live.holds(*((hidden.p50, hidden.p10, hidden.p90) if int_of(hidden.p50) else (hidden.p90,)))


def test_5_when_are_old_wires_dead_and_all_finished_and_what_can_you_send(house: House) -> None:
    """Sheets 1, 2, and 3 in rows 13 and 19: both dates, the two letters with their days, and who decides."""
    dates, one = house.offer.dates, one_price(house)
    first = house.place(START, ".first")
    first.holds(dates.options[one.key].dead)
    if dates.deadline and house.offer.holder.owner_now:
        first.holds(dates.deadline.by)
        first.says("ask them for more time")
    letters, second = section(house, REPORT, "report-letter"), section(house, REPORT, "report-second")
    letters.says("when you sign" if house.offer.holder.owner_now else "as soon as you choose, before you own the house")
    section(house, REPORT, "report-cannot").says("They decide")
    for option in house.offer.outcome.options:
        when = dates.options[option.key]
        letters.holds(when.dead, when.finished)
        second.holds(when.dead)
        answers(house, 13)[option.key].holds(when.dead)
        answers(house, 13)[option.key].says("letter when you sign", "second letter")
        answers(house, 19)[option.key].holds(when.dead, when.finished)


def test_6_who_paints_and_when_may_they_start(house: House) -> None:
    """The note on sheet 1, and sheet 3 in rows 5 and 19: paint is in no option, and the day from which it may begin."""
    house.place(START, ".prices").says("Paint is extra")
    for option in house.offer.outcome.options:
        answers(house, 5)[option.key].says("paint")
        ready = house.offer.dates.options[option.key].ready_for_paint
        if house.offer.terms[option.key].closes_holes == "us":
            assert ready, "who closes the holes knows when they are dry"
        if ready:
            answers(house, 19)[option.key].holds(ready)
            answers(house, 19)[option.key].says("ready for paint about")
        else:
            answers(house, 15)[option.key].says("Holes stay open")


def test_7_at_what_number_does_per_item_become_the_cheaper_option(house: House) -> None:
    """Sheet 4, before any of its sections: the counts at which the answer turns, or that it never does."""
    turns = house.place(PAY, ".evens")
    assert turns.tag.find_previous("section") is None, "it is no longer the first thing on the sheet"
    even = next(even for even in house.offer.outcome.break_even if even.key == "per-item")
    assert even == house.offer.outcome.break_even[0]
    if even.always_list or even.always_price:
        turns.says("However many of them are old", even.name, one_price(house).name, "ends no dearer")
    else:
        turns.holds(*filter(None, (even.list_up_to, even.price_from)))
        turns.says(f"{even.name} ends no dearer than {one_price(house).name}", "or fewer", "or more")


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
        place.says(outcome.prior.by.text, "judgement")
    section(house, WHO, "who-finished").says("cannot show a small error")
    assert outcome.tracing
    section(house, PAY, "pay-tracing").holds(outcome.tracing.price, *(swing.amount for swing in outcome.tracing.swings))


def test_9_until_when_and_how_can_you_cancel(house: House) -> None:
    """Sheet 1: that the right exists, for how many days, how, where, and with two forms in hand; sheet 4: the last day.

    The day and the address stand on the sheet of the agreement once there is one.
    """
    dates, firm = house.offer.dates, house.offer.firm
    house.place(START, ".first").holds(dates.cancel_days)
    how = section(house, START, "start-sign")
    how.holds(dates.cancel_days)
    how.says("you can cancel", "any writing will do", firm.address.text, firm.e_mail.text, "two cancel forms")
    when = section(house, PAY, "pay-when")
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
    for row, question in ((14, "who closes them?"), (17, "What is done about lead dust?"),
                          (23, "under what permit, licence and insurance?")):
        house.place(COMPARE, f"#compare-row-{row} th b").says(question)


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
