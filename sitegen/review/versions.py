"""A version that was handed over has the prices and the list that it was handed over with."""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.errors import Fault
from sitegen.figure import int_of
from sitegen.job.check_versions import PUT_BACK
from sitegen.job.inputs import Inputs
from sitegen.offer.offer import Offer
from sitegen.survey.lines import points_of
from sitegen.units import dollars


def versions(offer: Offer, inputs: Inputs) -> Iterator[Fault]:
    """Every price and the list that are other than those of the kept offer of this version."""
    job, document = inputs.job, inputs.documents["job"]
    for one in inputs.kept:
        if one.version != job.version:
            continue
        now = {option.key: int_of(option.price) for option in offer.outcome.options}
        places = {row.option: i for i, row in enumerate(job.options)}
        for key, price in now.items():
            if (was := one.prices.get(key)) != price:
                said = "without it" if was is None else f"at {dollars(was)}"
                yield document.fault(("options", places[key]), f"Version {one.version} was handed over {said}; "
                                     f"`{key}` is {dollars(price)} here.", PUT_BACK)
        for key in one.prices.keys() - now.keys():
            yield document.fault(("options",), f"Version {one.version} was handed over with `{key}`.", PUT_BACK)
        if (one.listed, one.places) != points_of(job):
            yield document.fault(("rooms",), f"Version {one.version} was handed over with another list.", PUT_BACK)


__all__ = ["versions"]
