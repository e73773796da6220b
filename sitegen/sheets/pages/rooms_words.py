"""Sheet 6: whole keys of words, by what the survey, the lead rule and the design say."""

from __future__ import annotations

TROUBLE = {
    "calcimine": "rooms.trouble.calcimine",
    "loose plaster": "rooms.trouble.loose-plaster",
    "wallpaper": "rooms.trouble.wallpaper",
    "sand finish": "rooms.trouble.sand-finish",
    "tile": "rooms.trouble.tile",
    "paneling": "rooms.trouble.paneling",
    "second skin": "rooms.trouble.second-skin",
}
"""What a plain patch does not settle, and its words."""

BANDS = {
    "large": ("rooms.band.large", "rooms.band-all.large"),
    "ceiling": ("rooms.band.ceiling", "rooms.band-all.ceiling"),
}
"""Bands of patches that are told: the words for some of the holes of a room, and for all of them.  Most patches are
filled by hand, of which nothing is said."""

CLOSES = {"us": "rooms.closes.us", "homeowner": "rooms.closes.you"}
"""Who closes the holes, and the words of it."""

WHO_CLOSES = {"homeowner": "rooms.close.you", "us": "rooms.close.us"}
"""Who closes the holes, and the sentence on the options that have them do it."""

LEAD = {
    "under the limit": "rooms.lead.under-the-limit",
    "nothing disturbed": "rooms.lead.nothing-disturbed",
    "written report": "rooms.lead.written-report",
    "not before 1978": "rooms.lead.not-before-1978",
    "demolition": "rooms.lead.demolition",
    "chiselled edges": "rooms.lead.chiselled-edges",
    "area": "rooms.lead.area",
    "subsidised limit": "rooms.lead.subsidised-limit",
    "share of a small component": "rooms.lead.share",
}
"""What the lead rule says of a room of a job, and its words."""

OLD_WIRE = {("old",): "rooms.dead.old", ("old", "unseen"): "rooms.dead.both", ("unseen",): "rooms.dead.unseen"}
"""The words for which old wire of a room is cut off, by which points it has."""

PROTECTS = {
    "arc-fault": "rooms.protects.arc-fault",
    "ground-fault": "rooms.protects.ground-fault",
    "ground-fault at counters": "rooms.protects.ground-fault-at-counters",
    "tamper-resistant": "rooms.protects.tamper-resistant",
}
"""How a circuit or a room is protected, and the words of it."""

METHODS = {
    "optional": "rooms.load.optional",
    "standard": "rooms.load.standard",
    "existing": "rooms.load.existing",
    "three alike": "rooms.load.three-alike",
    "three to five": "rooms.load.three-to-five",
    "measured": "rooms.load.measured",
}
"""A method for the load of the house, and the words over its table."""

LINES = {
    "lighting and receptacles": "rooms.line.lighting-and-receptacles",
    "small appliances": "rooms.line.small-appliances",
    "laundry": "rooms.line.laundry",
    "lighting demand": "rooms.line.lighting-demand",
    "cooking": "rooms.line.cooking",
    "dryers": "rooms.line.dryers",
    "fixed appliances": "rooms.line.fixed-appliances",
    "small fixed appliances": "rooms.line.small-fixed-appliances",
    "motors": "rooms.line.motors",
    "vehicle chargers": "rooms.line.vehicle-chargers",
    "three alike": "rooms.line.three-alike",
    "three to five": "rooms.line.three-to-five",
    "shared": "rooms.line.shared",
    "first tier": "rooms.line.first-tier",
    "the rest": "rooms.line.the-rest",
    "heat or cool": "rooms.line.heat-or-cool",
    "largest motor": "rooms.line.largest-motor",
    "measured peak": "rooms.line.measured-peak",
}
"""A line of such a table, and its words."""

SORTS = {
    "small appliance": "rooms.sort.small-appliance",
    "laundry": "rooms.sort.laundry",
    "bathroom": "rooms.sort.bathroom",
    "garage": "rooms.sort.garage",
    "general": "rooms.sort.general",
}
"""A sort of circuit, and its words; one for a single load is called by it."""

ALARMS = {
    "smoke": "rooms.alarm.smoke",
    "carbon monoxide": "rooms.alarm.carbon-monoxide",
}
"""A kind of alarm, and its words."""

PLACES = {
    "each bedroom": "rooms.place.each-bedroom",
    "outside bedrooms": "rooms.place.outside-bedrooms",
    "each storey": "rooms.place.each-storey",
}
"""Where an alarm goes, and the words of it."""

DUTIES = {
    "emergency-disconnect": "rooms.panel.disconnect",
    "emergency-disconnect-ask": "rooms.panel.disconnect-ask",
    "surge-protection": "rooms.panel.surge",
    "surge-protection-ask": "rooms.panel.surge-ask",
}
"""What new service equipment brings with it, and the words of it."""

TABLES = {"trouble": TROUBLE, "protects": PROTECTS, "methods": METHODS, "lines": LINES, "sorts": SORTS,
          "alarms": ALARMS, "places": PLACES,
          "duties": DUTIES}
"""Words that the template looks up by what the offer holds."""
