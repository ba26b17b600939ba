"""Small stored documents for tests of reading and replaying."""

from __future__ import annotations

from typing import Any


def a_step(operation: str, key: str = "s1", heats: int = 0, **params: Any) -> dict[str, Any]:
    return {"key": key, "operation": operation, "params": params, "heats": heats}


def a_part(*steps: dict[str, Any], key: str = "bar", side: float = 20, length: float = 300) -> dict[str, Any]:
    stock = {"section": {"shape": "square", "side": side}, "length": length}
    numbered = [{**step, "key": f"s{index}"} for index, step in enumerate(steps, start=1)]
    return {"key": key, "name": key.capitalize(), "stock": stock, "steps": numbered}


def a_document(*parts: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {
        "format": "forgesite.procedure",
        "version": 1,
        "title": "A trial",
        "parts": list(parts) or [a_part()],
        **more,
    }


def drawn_out(side: float = 12, length: float = 60, heats: int = 0, on: str = "bar") -> dict[str, Any]:
    return a_step(
        "draw_out",
        heats=heats,
        where={"on": on, "datum": "end", "length": length},
        target={"shape": "square", "side": side},
    )
