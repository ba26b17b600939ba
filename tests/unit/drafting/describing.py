"""Parts described in tests: features by their ids, in the order they come."""

from collections.abc import Mapping
from typing import Any

from calculators.sections import Section
from procedures.drafting.catalogue import all_features
from procedures.drafting.description import Description
from procedures.drafting.feature import Feature
from procedures.engine.scale import ScaleHabit

NO_FIRE = ScaleHabit(forging=0.0, welding=0.0)
POINT = {"shape": "point"}


def square(side: float) -> dict[str, object]:
    return {"shape": "square", "side": side}


def rod(diameter: float) -> dict[str, object]:
    return {"shape": "round", "diameter": diameter}


def flat(width: float, thickness: float) -> dict[str, object]:
    return {"shape": "flat", "width": width, "thickness": thickness}


def stem(length: float, **more: Any) -> tuple[str, Mapping[str, Any]]:
    return ("stem", {"length": length, **more})


def feature(kind: str, params: Mapping[str, Any]) -> Feature:
    return all_features()[kind].read(params)


def described(*run: tuple[str, Mapping[str, Any]], bar: Section | None = None, **more: Any) -> Description:
    """Return a description on □12 unless said otherwise, in a fire that takes nothing."""
    features = tuple(feature(kind, params) for kind, params in run)
    return Description(features, bar=bar or Section.square(12), **{"scale": NO_FIRE, **more})
