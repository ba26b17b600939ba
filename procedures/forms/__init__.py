"""Forms. Those of steps are made from what their operations declare; none knows an operation by name."""

from .annotation import annotations_formset
from .entries import Entry, Offer
from .procedure import (
    DetailsForm,
    DocumentFileForm,
    NewPartForm,
    NewProcedureForm,
    PartForm,
    PhotoForm,
    PhotoWordsForm,
)
from .step import StepForm, with_row_added, with_row_removed

__all__ = [
    "DetailsForm",
    "DocumentFileForm",
    "Entry",
    "NewPartForm",
    "NewProcedureForm",
    "Offer",
    "PartForm",
    "PhotoForm",
    "PhotoWordsForm",
    "StepForm",
    "annotations_formset",
    "with_row_added",
    "with_row_removed",
]
