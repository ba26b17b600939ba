"""Every write to the database: one verb each, keyword-only, `by` whom last."""

from .details import add_part, delete_part, edit_details, edit_part
from .history import redo, undo
from .mends import apply_mend, lift_silence, silence_finding
from .photos import annotate_photo, attach_photo, describe_photo, detach_photo, marks_digest
from .procedures import create_procedure, delete_procedure, publish, unpublish
from .saving import EditConflict, Refused, Stops
from .steps import delete_step, duplicate_step, edit_step, insert_step, move_step, restore_step

__all__ = [
    "EditConflict",
    "Refused",
    "Stops",
    "add_part",
    "annotate_photo",
    "apply_mend",
    "attach_photo",
    "create_procedure",
    "delete_part",
    "delete_procedure",
    "delete_step",
    "describe_photo",
    "detach_photo",
    "duplicate_step",
    "edit_details",
    "edit_part",
    "edit_step",
    "insert_step",
    "lift_silence",
    "marks_digest",
    "move_step",
    "publish",
    "redo",
    "restore_step",
    "silence_finding",
    "undo",
    "unpublish",
]
