"""Words looked for, as each database has them: FTS5 in SQLite, text search in PostgreSQL.

A library that speaks to both was tried first. It joins its index to the rows by a column of texts: with
100,000 rows a word that nothing holds took 0.9 s, one in 2,700 rows 9 s, and FTS5 alone 3 ms.
"""

from __future__ import annotations

from functools import reduce
from operator import and_, or_

from django.contrib.postgres.search import SearchQuery, SearchRank, SearchVector
from django.db import connection
from django.db.models import QuerySet

from procedures.finding.words import Asked, Term
from procedures.models import Facts


def matching(facts: QuerySet[Facts], asked: Asked, *, ranked: bool) -> QuerySet[Facts]:
    """Return those of the rows that hold what was asked for, the best first where they are `ranked`."""
    if connection.vendor == "sqlite":
        facts = facts.filter(index__matched=" AND ".join(_fts5(one) for one in asked.terms))
        return facts.order_by("index__rank", "-pk") if ranked else facts
    query = reduce(and_, (_tsquery(one) for one in asked.terms))
    vector = SearchVector("title", weight="A", config="english") + SearchVector("words", config="english")
    facts = facts.annotate(vector=vector).filter(vector=query)
    return facts.order_by(-SearchRank(vector, query), "-pk") if ranked else facts


def _fts5(term: Term) -> str:
    """Return a term in FTS5's language. Its words are letters and digits alone, so nothing else gets in."""
    forms = [f'"{" ".join(one)}"' for one in term.forms]
    if term.begins:
        forms[0] += "*"
    return f"({' OR '.join(forms)})"


def _tsquery(term: Term) -> SearchQuery:
    forms = [SearchQuery(" ".join(one), search_type="phrase", config="english") for one in term.forms]
    if term.begins and len(term.forms[0]) == 1:
        forms.append(SearchQuery(f"{term.forms[0][0]}:*", search_type="raw", config="english"))
    return reduce(or_, forms)
