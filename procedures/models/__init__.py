"""What is kept: procedures with their history, revisions and photos."""

from .history import Edit
from .photo import Photo
from .procedure import Procedure, Revision

__all__ = ["Edit", "Photo", "Procedure", "Revision"]
