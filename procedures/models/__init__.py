"""What is kept: procedures with their history, revisions and photos; runs and classes."""

from .adaptation import Adaptation, Offer, OfferedChange
from .history import Edit
from .photo import Photo, Picture
from .procedure import FrozenReport, Procedure, Revision
from .run import Course, Run, RunEntry, RunPhoto

__all__ = [
    "Adaptation",
    "Course",
    "Edit",
    "FrozenReport",
    "Offer",
    "OfferedChange",
    "Photo",
    "Picture",
    "Procedure",
    "Revision",
    "Run",
    "RunEntry",
    "RunPhoto",
]
