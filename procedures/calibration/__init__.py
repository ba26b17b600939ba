"""What a shop learns from what it measured: beliefs, and how readings change them.

Pure: no Django. A **quantity** (`quantities.py`) is a number that predictions rest on, with what is believed
of it before anything is measured. A **reading** (`readings.py`) is one measured piece, turned into a value of
the quantity and how sure it is. `Learner` (`learning.py`) keeps the readings of each person, site and steel
apart, asks about those that lie far out, and answers with a **belief** (`belief.py`).

    >>> learner = Learner()
    >>> bench = Subject("loss", person="alice", site="north shop", steel="mild steel")
    >>> learner.learn(bench, loss_reading(256, 100, 100, 245.86, heats=2, volume_share=0.024))
    >>> learner.belief(bench)
    Belief(mean=0.02, sd=0.00768, n=1)
"""

from .belief import Belief, BeliefError, Reading, readings_to_beat_default, update
from .learning import Asked, Learner, Subject, site_prior
from .quantities import QUANTITIES, Quantity
from .readings import (
    CV_SECTION,
    cooling_reading,
    loss_by_weight,
    loss_reading,
    ratio_reading,
    spread_reading,
)

__all__ = [
    "CV_SECTION",
    "QUANTITIES",
    "Asked",
    "Belief",
    "BeliefError",
    "Learner",
    "Quantity",
    "Reading",
    "Subject",
    "cooling_reading",
    "loss_by_weight",
    "loss_reading",
    "ratio_reading",
    "readings_to_beat_default",
    "site_prior",
    "spread_reading",
    "update",
]
