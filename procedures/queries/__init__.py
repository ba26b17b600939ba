"""What is read from the database, and as whom: a file for each room; procedures are named here too."""

from .guilds import guild_words, guilds_to_publish_for, own_guilds
from .procedures import (
    History,
    adaptation_of,
    adaptations_of,
    digests_shown,
    history,
    is_photo_published,
    lineage_of,
    offers_of,
    own_procedures,
    photos,
    public_procedures,
    public_revision,
    readable_document,
    readable_procedures,
    readable_revision,
    revisions_of,
)

__all__ = [
    "History",
    "adaptation_of",
    "adaptations_of",
    "digests_shown",
    "guild_words",
    "guilds_to_publish_for",
    "history",
    "is_photo_published",
    "lineage_of",
    "offers_of",
    "own_guilds",
    "own_procedures",
    "photos",
    "public_procedures",
    "public_revision",
    "readable_document",
    "readable_procedures",
    "readable_revision",
    "revisions_of",
]
