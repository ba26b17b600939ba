"""The shapes of answers, for the description of the API. Lengths in mm, times in ISO 8601."""

from __future__ import annotations

from datetime import datetime

from pydantic import BaseModel, Field


class ProcedureOut(BaseModel):
    """A procedure as it is listed; `revision` is the newest that its readers get, 0 while there is none."""

    slug: str
    title: str
    author: str
    status: str
    revision: int
    code: str = Field(description="What the newest revision is cited by; empty while there is none.")
    published: datetime | None
    updated: datetime
    url: str = Field(description="The page that people read.")
    document: str = Field(description="Where its document is fetched.")
    notice: str = Field(description="What work by it can do, and what nobody certifies. Show it with it.")


class ProceduresOut(BaseModel):
    """A page of a list. `next` and `previous` are the addresses of the pages beside it."""

    count: int
    next: str | None
    previous: str | None
    results: list[ProcedureOut]


class RevisionOut(BaseModel):
    """A revision. `digest` is that of its document, `figures_digest` that of its replay report."""

    number: int
    code: str
    title: str
    note: str
    published: datetime
    withdrawn: bool
    reason: str = Field(description="Why it was withdrawn.")
    digest: str
    figures_digest: str
    document: str | None
    figures: str | None


class RevisionsOut(BaseModel):
    """All revisions of a procedure, the newest first."""

    results: list[RevisionOut]


class PhotoOut(BaseModel):
    """A photo. Steps name it by its digest; `files` are addresses by width in pixels."""

    digest: str
    width: int
    height: int
    files: dict[str, str]


class PhotosOut(BaseModel):
    """The photos of a procedure."""

    results: list[PhotoOut]


class OperationOut(BaseModel):
    """An operation of the catalogue. `parameters` is the JSON Schema of what a step of it is told."""

    id: str
    title: str
    family: str
    synonyms: list[str]
    about: str
    url: str
    parameters: dict[str, object]


class OperationsOut(BaseModel):
    """All operations."""

    results: list[OperationOut]


class CalculatorOut(BaseModel):
    """A calculator, with what it takes."""

    id: str
    title: str
    about: str
    takes: dict[str, str]
    url: str


class CalculatorsOut(BaseModel):
    """All calculators."""

    results: list[CalculatorOut]


class ValueOut(BaseModel):
    """A value with its working, in the units asked for."""

    label: str
    value: str
    working: str


class AnswerOut(BaseModel):
    """What a calculator answers to the numbers of the query, or to its own example where there are none."""

    id: str
    given: dict[str, str]
    label: str
    value: str
    working: str
    further: list[ValueOut]
    warnings: list[str]
    source: str
    url: str


class RunOut(BaseModel):
    """A run of one's own."""

    id: str
    procedure: str
    started: datetime
    ended: bool
    url: str


class RunsOut(BaseModel):
    """A page of one's runs."""

    count: int
    next: str | None
    previous: str | None
    results: list[RunOut]


class PublishIn(BaseModel):
    """What is said of a revision as it is published."""

    note: str = Field("", max_length=1000)
