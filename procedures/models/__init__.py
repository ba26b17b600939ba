"""What is kept: procedures with their history, revisions and photos; runs and classes."""

from .history import Edit
from .photo import Photo
from .procedure import FrozenReport, Procedure, Revision
from .run import Course, Run, RunEntry

__all__ = ["Course", "Edit", "FrozenReport", "Photo", "Procedure", "Revision", "Run", "RunEntry"]
