"""Names that a survey and a calculation both use: kinds of rooms, walls, floors, loads, and trouble words.

Plain words of the trade, so that a field of a file and the function that reads it can never disagree.
"""

from __future__ import annotations

ROOMS = ("living room", "dining room", "kitchen", "bedroom", "bathroom", "hall", "stairs", "laundry", "closet",
         "attic", "unfinished basement", "finished basement", "garage", "porch", "outdoors", "other habitable room",
         "utility", "pantry", "sunroom")
"""Kinds of rooms, as the electrical code tells them apart: a porch is open, one closed in with glass is a sunroom."""

WALLS = ("plaster on wood lath", "plaster on metal lath", "plaster on masonry", "board")
"""What is cut when a wall is opened."""

FLOORS = ("thin strip", "thick strip", "softwood plank", "tile", "linoleum", "carpet", "concrete")
"""What has to be kept: thin strip is nailed from above and may not take one more sanding."""

TROUBLE = ("calcimine", "loose plaster", "wallpaper", "sand finish", "tile", "paneling", "second skin")
"""What a room may hold that a plain patch does not settle."""

LOADS = ("range", "wall oven", "cooktop", "fixed appliance", "water heater", "central heat", "room heat",
         "supplemental heat", "heat pump", "cooling", "dryer", "motor", "vehicle charger", "car outlet", "dishwasher",
         "sump pump", "boiler", "window unit")
"""What the service must carry beside outlets and lights; a car outlet is one for the cord of a car.

A boiler or a furnace burns fuel, and takes power for its burner, pumps and fans; a window unit cools one room from a
plug.
"""

FINISHES = ("setting", "gypsum", "lime")
"""What a patch is made of: setting compound, gypsum base coats, or lime in every coat; paint waits by it."""

CUTS = ("sawn whole", "edges chiselled", "broken out")
"""How plaster is opened: a piece cut out whole with its edges sawn back, or chiselled back, or the plaster broken."""

EDITIONS = ("2017", "2020", "2023", "2026")
"""Editions of the National Electrical Code that towns have in force."""

ABOUT = ("points", "new places", "old wire", "splice", "panel", "service", "alarms", "protection", "other")
"""What a finding of an inspector is about."""

ABOUT_ROOMS = ("points", "protection", "new places", "old wire", "splice")
"""Of these, what has a place in rooms and a kind of point."""

LICENCES = ("electrical", "home improvement", "salesperson", "lead firm")
"""Kinds of licences and certificates of a firm."""

ROLES = ("estimator", "salesperson", "electrician in charge", "certified renovator", "plasterer", "office")
"""What somebody of the firm does; a certified renovator trains the crew and checks the cleaning (40 CFR 745.90)."""

SIGNS, SIGNS_WITH = "electrician in charge", "electrical"
"""Whose role and which licence stand under a letter on wiring."""

SELLS_WITH = "salesperson"
"""The licence of whoever sells."""

LATER = ("plaster finish", "floors", "cleaning", "other")
"""What a later cost makes good."""

EXTRAS = ("lead wipes", "surge device", "fan box", "other")
"""Extras that a sheet or a rule speaks of by what they are."""

NOTICES = ("none", "asbestos")
"""Notice that must be given to an authority when a case has come up."""

FOUND_HAZARDS = ("hot cover", "live splice", "no working alarm", "disturbed fill", "insulation due")
"""What a survey can find, room by room, that can hurt somebody tonight."""

STOP_HAZARDS = ("live gas pipe", "loose fill", "pipe wrap", "loose ceiling", "nothing tonight")
"""What an answer `yes` among the finds that stop work can mean for tonight."""

HAZARDS = ("live gas pipe", "hot cover", "live splice", "disturbed fill", "insulation due", "no working alarm",
           "loose ceiling", "loose fill", "pipe wrap")
"""All of them, in the order in which they are said: first what can hurt soonest."""

__all__ = ["ABOUT", "ABOUT_ROOMS", "CUTS", "EDITIONS", "EXTRAS", "FINISHES", "FLOORS", "FOUND_HAZARDS", "HAZARDS",
           "LATER", "LICENCES", "LOADS", "NOTICES", "ROLES", "ROOMS", "SELLS_WITH", "SIGNS", "SIGNS_WITH",
           "STOP_HAZARDS", "TROUBLE", "WALLS"]
