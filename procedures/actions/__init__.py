"""Every write to the database: one verb each, keyword-only, `by` whom last."""

from .adapting import adapt, catch_up, take_over
from .courses import delete_course, end_course, open_course
from .details import add_part, delete_part, edit_details, edit_part
from .exchange import TakenInProcedure, take_in_package
from .history import redo, undo
from .leaving import leave, leave_behind
from .mends import apply_mend, lift_silence, silence_finding
from .offers import accept_change, decline_change, offer_back, take_offer_back
from .photos import annotate_photo, attach_photo, describe_photo, detach_photo, marks_digest
from .procedures import create_procedure, delete_procedure
from .publishing import publish, unpublish, withdraw_revision
from .runs import NotYours, delete_run, forget_run, keep_run_photo, run_of_photo, sign_gate, take_in_run
from .saving import EditConflict, Refused, Stops
from .steps import delete_step, duplicate_step, edit_step, insert_step, move_step, restore_step

__all__ = [
    "EditConflict",
    "NotYours",
    "Refused",
    "Stops",
    "TakenInProcedure",
    "accept_change",
    "adapt",
    "add_part",
    "annotate_photo",
    "apply_mend",
    "attach_photo",
    "catch_up",
    "create_procedure",
    "decline_change",
    "delete_course",
    "delete_part",
    "delete_procedure",
    "delete_run",
    "delete_step",
    "describe_photo",
    "detach_photo",
    "duplicate_step",
    "edit_details",
    "edit_part",
    "edit_step",
    "end_course",
    "forget_run",
    "insert_step",
    "keep_run_photo",
    "leave",
    "leave_behind",
    "lift_silence",
    "marks_digest",
    "move_step",
    "offer_back",
    "open_course",
    "publish",
    "redo",
    "restore_step",
    "run_of_photo",
    "sign_gate",
    "silence_finding",
    "take_in_package",
    "take_in_run",
    "take_offer_back",
    "take_over",
    "undo",
    "unpublish",
    "withdraw_revision",
]
