"""What a new workspace starts with: names that other fields point at, and an example for each blank.

Everything here is a start: a firm renames, adds and takes away.  The names agree with each other, so that filling
the blanks is enough.  Amounts and words stand as examples only and fill nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sitegen.job.blanks import Such
from sitegen.trade.kinds import WALLS as EVERY_WALL

TOWN, STATE = "our-town", "our-state"
POINTS = ("outlet", "switch", "ceiling light", "wall light")
WALLS = ("plaster on wood lath", "board")
STOREYS = ("0", "1", "2", "3")
POWER_OFF = {"panel": Such("6"), "rough": Such("2"), "cut": Such("2")}
REACHES = {str(ratio): Such(share) for ratio, share in enumerate(
    ("3/4", "67/100", "59/100", "52/100", "46/100", "41/100", "37/100", "33/100", "30/100", "27/100", "1/4"))}
"""By room cavity ratio, as the sheet of a fitting gives it."""
STOPS = {"asbestos": ("vermiculite", "pipe wrap", "textured ceiling"), "gas-pipe": ("gas-light pipe",)}
KITS = {"fixed-guarantee": "one-price", "per-item": "by-item", "minimal-protection": "wiring-only"}


def _case(key: str, what: str, called: str) -> dict[str, Any]:
    asked = {"asked in": list(STOPS[key])} if key in STOPS else {}
    return {"key": key, "what": Such(what), "called": Such(called), **asked}


def _later(key: str, what: str, called: str, per: str, whose: str) -> dict[str, Any]:
    return {"key": key, "what": Such(what), "called": Such(called), "per": per, "whose": Such(whose)}


def _points(*points: tuple[str, str]) -> list[dict[str, Any]]:
    return [{"row": Such(row), "says": Such(says)} for row, says in points]


CASES = [
    _case("asbestos", "Old pipe wrap or loose fill has to be tested, and taken out by a licensed firm",
          "old pipe wrap or loose fill"),
    _case("service", "The utility asks for a new meter place or a new service cable", "a new meter place"),
    _case("gas-pipe", "A gas-light pipe is still live and a plumber has to cap it", "a live gas-light pipe"),
    _case("rot", "Rotten framing has to be mended where a cable must pass", "rotten framing"),
]
LATER = [
    _later("plaster-finish", "A plasterer closes the openings and makes them ready for paint", "plaster finish",
           "opening", "a plasterer's quote"),
    _later("floors", "A floor finisher cleans and mends scuffed floor outside the sheet", "floors outside the sheet",
           "sq ft outside the sheet", "a floor finisher's quote"),
    _later("deep-clean", "A cleaner goes through the whole house", "deep clean", "house", "a cleaner's quote"),
]
EVERY_POINT: dict[str, Any] = {"covers": "every point", "pays for more": "us", "sheet": "every room", "cleans": "house"}
THE_LIST: dict[str, Any] = {"covers": "the list", "pays for more": "homeowner", "each point": Such("$500"),
                            "each feed": Such("$560"), "each blocked drop": Such("$165")}
ALL_CASES = {"cases": {case["key"]: None for case in CASES}}


def _kit(option: str, **words: Any) -> dict[str, Any]:
    covers = EVERY_POINT if option == "fixed-guarantee" else THE_LIST
    ours = option != "minimal-protection"
    after = {"old wires dead": Such("60 of 100"), "holes closed": Such("30 of 100")} if ours else \
        {"old wires dead": Such("90 of 100")}
    return {"option": option, **covers, **ALL_CASES, "closes holes": "us" if ours else "homeowner",
            "finish": Such("setting") if ours else None, "payments": {"after": after},
            **{key.replace("_", " "): value for key, value in words.items()}}


KIT_STARTS = {
    KITS["fixed-guarantee"]: _kit(
        "fixed-guarantee", later=[],
        good=_points(("4", "We pay if more old wiring turns up."), ("11", "You get a signed list of old circuits."),
                     ("21", "Our promise covers old wire that we missed.")),
        drawbacks=_points(("1", "It is the highest price today."), ("20", "Power is off on the most days."),
                          ("24", "If little is old, you paid for a risk that never came.")),
        fits=Such("You might want this if you need one figure, and old wires dead, by a date."),
        does_not_fit=Such("You might not want this if most of your wiring may be new.")),
    KITS["per-item"]: _kit(
        "per-item", later=["floors", "deep-clean"],
        good=_points(("4", "If little more is old, you pay little more."),
                     ("9", "You choose and sign for each further point."), ("14", "We close the holes that we cut.")),
        drawbacks=_points(("2", "The price can rise without a cap."),
                          ("10", "Old wire stays live unless you add its points."),
                          ("19", "The end moves as points are added.")),
        fits=Such("You might want this if you like to decide point by point."),
        does_not_fit=Such("You might not want this if you must know the whole cost.")),
    KITS["minimal-protection"]: _kit(
        "minimal-protection", later=["plaster-finish", "floors", "deep-clean"],
        good=_points(("1", "It is the lowest price today."), ("19", "Our crew is gone in the fewest days."),
                     ("14", "You choose who closes the holes, and when.")),
        drawbacks=_points(("5", "You must hire a plasterer and a cleaner."),
                          ("10", "Old wire stays live unless you add its points."),
                          ("15", "Holes are open when we leave.")),
        fits=Such("You might want this if you have a plasterer, or will strip these rooms anyway."),
        does_not_fit=Such("You might not want this if you want walls ready for paint.")),
}

STARTS: Mapping[str, Mapping[str, Any]] = {
    "company": {
        "people": [{"role": role} for role in ("estimator", "electrician in charge", "certified renovator")],
        "licences": [{"kind": kind} for kind in ("electrical", "home improvement", "salesperson", "lead firm")],
        "insurance": [{"kind": kind} for kind in ("liability", "workers' compensation")],
        "chosen": [{"option": option} for option in KITS],
    },
    "price-book": {"rates": {"drops a point": dict.fromkeys(POINTS), "box cut": dict.fromkeys(POINTS),
                             "walls": dict.fromkeys(WALLS)},
                   "boxes": dict.fromkeys(POINTS), "light": {"reaches": REACHES},
                   "cable from panel": dict.fromkeys(STOREYS), "power off": POWER_OFF,
                   "cases": CASES, "later": LATER, "kits": KIT_STARTS},
    "cost-book": {"points": dict.fromkeys(POINTS)},
    "town": {"state": STATE},
    "state": {},
}
"""Kind of file -> a start of its own shape."""

COSTS = {"points": ("5/4", "$23.19"), "drop": ("3/4", "$13.07"), "blocked drop": ("3/2", "$9.53"),
         "patch": ("5/4", "$17.71"), "feed": ("7/2", "$83.29"), "panel": ("14", "$1,150"), "service": ("10", "$890"),
         "old circuit": ("3/2", "$4.20"), "set up": ("1", "$22"), "cleaning": ("1", "$6.40"),
         "plaster visit": ("3/2", "$0")}
"""Examples of crew hours and material for each part of the cost book."""

EXAMPLES: Mapping[str, Mapping[str, str]] = {
    "company": {
        "name": "Osterby Electric LLC", "address": "18 Tannery Street, Pellam Ford", "e-mail": "office@osterby.example",
        "people.name": "Priya Dunmore", "licences.number": "E-20417", "insurance.insurer": "Tessamin Builders Mutual",
        "subcontractors": "Nobody else works in your house for us.",
        "damage": "We repair any floor or plaster that we damage by carelessness, at no charge.",
        "prior.by": "Gus Osterby", "prior.on": "2026-01-12", "prior.old feeds": "2", "prior.new feeds": "2",
        "prior.part feed old": "1/4", "prior.part feed new": "1/4", "prior.blocked drops": "1",
        "prior.open drops": "3", "prior.hard house shift": "1/2", "finished since": "2022-03-01",
        "chosen.jobs": "17", "licences.expires": "2028-06-30", "insurance.until": "2028-06-30",
    },
    "price-book": {
        "edition": "autumn 2026", "quoted": "2026-09-14", "by": "Gus Osterby", "rates.drops a point": "1",
        "rates.box cut": "9.3 sq in", "rates.walls.openings a drop": "3/4", "rates.walls.wide": "4 in",
        "rates.walls.high": "6 in", "patches.plate": "$28", "patches.hand": "$95", "patches.large": "$240",
        "patches.ceiling": "$165", "patches.minimum": "$480", "board.wide": "38 in", "board.long": "100 ft",
        "board.overlap": "4 in", "boxes.holds": "20 cu in", "boxes.cables": "2", "boxes.devices": "1",
        "light.called": "a plain ceiling light with two lamps", "light.lumens": "2,600", "light.kept": "4/5",
        "light.spacing": "3/2", "light.hangs": "6 in", "cable from panel": "40 ft", "points a circuit": "10",
        "cases.asked in": "gas-light pipe", "cases.low": "$350", "cases.usual": "$800", "cases.high": "$1,900",
        "cases.days": "2", "later.low": "$105", "later.usual": "$155", "later.high": "$245", "later.on": "2026-09-08",
        "protect outlet": "$85", "extras.key": "fan-box", "extras.price": "$145", "extras.where": "House",
        "extras.what": "A ceiling box that can carry a fan, in place of a plain one",
        "extras.choose by": "Choose before that box goes in.", "tracing.visit": "$450", "tracing.each feed": "$95",
        "kits.not over for cases": "none", "kits.not over for more": "none",
        "kits.payments.before work": "$0", "kits.payments.held to the end": "10 of 100",
        "kits.each point": "$0", "kits.each feed": "$0", "kits.each blocked drop": "$0",
        "kits.if stopped": "You pay for the work done so far. We join up or cap every wire that we opened.",
        "kits.promise.years on work": "2", "kits.promise.years on old wire": "0",
        "kits.promise.if we close": "The promise ends. No insurer stands behind it.",
        "kits.rows.how shown": "We test each point that we did and sign a list of them.",
        "kits.rows.walls": "Holes are closed with flat, sanded, bare plaster. You paint.",
        "kits.rows.floors": "We lay board on the paths that we walk.",
        "kits.rows.cleaning": "We wipe down the storey that you live on.",
        "kits.rows.living": "Yes, you can live there while we work.",
    },
    "cost-book": {"edition": "autumn 2026", "by": "Gus Osterby", "labour an hour": "$71.37",
                  "people": "3", "hours a day": "8", "rooms at once": "4", "after plaster": "1/4",
                  **{f"{part}.hours": hours for part, (hours, _) in COSTS.items()},
                  **{f"{part}.material": material for part, (_, material) in COSTS.items()}},
    "town": {
        "name": "Pellam Ford", "board days": "15", "asbestos notice": "10",
        "permit": "We get the permit. It covers all the new wiring and the panel.",
        "inspection": "The town's electrical inspector looks before holes are closed, and again at the end.",
        "permit price": "$185", "permit days": "0", "inspector notice": "2", "utility notice": "10",
        "cable": "Plastic-sheathed cable is allowed in old walls.",
        "alarms": "Smoke alarms in each bedroom, outside the bedrooms and on each storey.",
        "approvals": "No board has to agree.",
    },
    "state": {"name": "Tessamin", "cancel within": "3", "where": "The state adds nothing to the federal rule.",
              "deposit.most": "$1,000", "deposit.part": "1/10", "reviewed by": "Odile Farrant",
              "reviewed on": "2026-09-01"},
}
"""Kind of file -> path of a field without the names in between -> an example, all of them invented."""

HEADS: Mapping[str, str] = {
    "company": "The company's own card. It is written once and serves every job.",
    "price-book": "The price book: what the firm sells and what it costs, whatever the house.",
    "cost-book": "PRIVATE. What the work costs us. Nothing of this book may stand on a sheet.",
    "town": "The town card: one for each town that we work in. Its file name is what a job calls it.",
    "state": "The state card. It stays a draft until a lawyer has read it.",
}

NOTES: Mapping[str, Mapping[str, str]] = {
    "company": {
        "people": "Everybody whom the homeowner meets. Copy the lines from a dash for each further person.",
        "licences": "One entry for each number; take out what your state does not ask for.",
        "prior": "What we believe before we look. It belongs to the firm: no job can set it.",
        "chosen": "All finished jobs since this day; 0 is an answer.",
    },
    "price-book": {
        "rates": "Each kind of point here is one that a job can count, and stands in the cost book too.",
        "rates.walls": f"What a job's walls can be made of: {', '.join(EVERY_WALL)}.",
        "cable from panel": "By storey; 0 is the basement. Add the storeys of your tallest house.",
        "light.reaches": "From the sheet of the fitting.",
        "cases": "Each case stands in every kit below, with who pays for it.",
        "later": "A kit names those that it leaves to the homeowner.",
        "kits": "One for each option. A job names the kits that it is sold by.",
    },
    "cost-book": {"points": "The same kinds of points as in the price book."},
    "town": {}, "state": {},
}
