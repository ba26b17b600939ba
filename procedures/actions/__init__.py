"""Every write to the database: one verb each, keyword-only, `by` whom last."""

from .adapting import adapt, catch_up, take_over
from .courses import delete_course, end_course, open_course
from .details import add_part, delete_part, edit_details, edit_part
from .exchange import TakenInProcedure, take_in_package
from .history import redo, undo
from .leaving import leave, leave_behind
from .mends import apply_mend, lift_silence, silence_finding
from .news import read_all, read_one
from .offers import accept_change, decline_change, offer_back, take_offer_back
from .photos import annotate_photo, attach_photo, describe_photo, detach_photo, marks_digest
from .procedures import create_procedure, delete_procedure
from .publishing import publish, unpublish, withdraw_revision
from .results import (
    attach_result_photo,
    detach_result_photo,
    edit_result,
    report_of_run,
    report_result,
    take_result_back,
)
from .runs import NotYours, delete_run, forget_run, keep_run_photo, run_of_photo, sign_gate, take_in_run
from .saving import EditConflict, Refused, Stops
from .steps import delete_step, duplicate_step, edit_step, insert_step, move_step, restore_step
from .talking import (
    accept,
    accept_none,
    answer,
    ask,
    close_questions,
    fold,
    note_taken,
    open_questions,
    reword,
    take_answer_back,
    take_question_back,
    take_thanks_back,
    thank,
)

__all__ = [
    "EditConflict",
    "NotYours",
    "Refused",
    "Stops",
    "TakenInProcedure",
    "accept",
    "accept_change",
    "accept_none",
    "adapt",
    "add_part",
    "annotate_photo",
    "answer",
    "apply_mend",
    "ask",
    "attach_photo",
    "attach_result_photo",
    "catch_up",
    "close_questions",
    "create_procedure",
    "decline_change",
    "delete_course",
    "delete_part",
    "delete_procedure",
    "delete_run",
    "delete_step",
    "describe_photo",
    "detach_photo",
    "detach_result_photo",
    "duplicate_step",
    "edit_details",
    "edit_part",
    "edit_result",
    "edit_step",
    "end_course",
    "fold",
    "forget_run",
    "insert_step",
    "keep_run_photo",
    "leave",
    "leave_behind",
    "lift_silence",
    "marks_digest",
    "move_step",
    "note_taken",
    "offer_back",
    "open_course",
    "open_questions",
    "publish",
    "read_all",
    "read_one",
    "redo",
    "report_of_run",
    "report_result",
    "restore_step",
    "reword",
    "run_of_photo",
    "sign_gate",
    "silence_finding",
    "take_answer_back",
    "take_in_package",
    "take_in_run",
    "take_offer_back",
    "take_over",
    "take_question_back",
    "take_result_back",
    "take_thanks_back",
    "thank",
    "undo",
    "unpublish",
    "withdraw_revision",
]
