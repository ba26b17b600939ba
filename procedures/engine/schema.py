"""The JSON Schema of the document, made from the catalogue: what an operation declares is what it says.

Draft 2020-12. It says all that a schema can: what depends on another value (a radius that leaves no room, two
steps of one key, the number of steps in all) is for `document.read` alone.
"""

from __future__ import annotations

from calculators.generators import NAMES
from calculators.materials import MATERIALS
from calculators.section_names import DIMENSIONS, LARGEST, SMALLEST
from procedures.engine.parameters import own_material
from procedures.engine.parameters.fields import BAR_LENGTH, COUNT, FIRE_LENGTHS, HEATS, KEY, VERSION_NUMBER
from procedures.engine.parameters.params import NAME_LIMIT
from procedures.engine.pieces.metal_left import LENGTH_LIMIT

from . import document
from .annotation import MOST_ANNOTATIONS, TEXT_LIMIT, annotation_schema
from .catalogue import catalogue
from .evidence import DEVIATION_LIMIT
from .operation import Operation
from .originals_schema import evidence_schema, original_schema
from .scale import FIRES
from .schema_rules import Schema
from .schema_rules import list_rule as _list
from .schema_rules import object_rule as _object
from .schema_rules import words_rule as _words

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ID = f"urn:{document.FORMAT.replace('.', ':')}:{document.VERSION}"

_KEY = {"type": "string", "pattern": f"^{KEY.pattern}$"}
_DISTANCE = {"type": "number", "minimum": 0, "maximum": LENGTH_LIMIT}


def schema() -> Schema:
    """Return the JSON Schema of a procedure's document."""
    return {
        "$schema": DIALECT,
        "$id": ID,
        "title": "A forging procedure",
        "description": "Lengths in mm, angles in degrees.",
        **_object(
            {
                "format": {"const": document.FORMAT},
                "version": {"const": document.VERSION},
                "title": _words(120, needed=True),
                "summary": _words(2000, lines=True),
                "level": {"enum": list(document.LEVELS)},
                "licence": {"enum": list(document.LICENCES)},
                "credits": _list(_words(120, needed=True), 40),
                "scale": {"$ref": "#/$defs/scale"},
                "original": {"anyOf": [original_schema(), {"type": "null"}]},
                "parts": _list({"$ref": "#/$defs/part"}, document.MOST_PARTS, least=1),
            },
            needed=("format", "version", "title", "parts"),
        ),
        "$defs": {
            **_definitions(),
            **{f"params_{key}": params_schema(kind) for key, kind in catalogue().items()},
        },
    }


def _definitions() -> Schema:
    return {
        "part": _part(),
        "own_material": _own_material(),
        "step": _step(),
        "photo": _photo(),
        "annotation": annotation_schema(_words(TEXT_LIMIT), _words(TEXT_LIMIT, needed=True)),
        "scale": _object(
            {"fire": {"enum": list(FIRES)}, **{key: kind.schema() for key, kind in FIRE_LENGTHS.items()}}
        ),
        "section": _section(),
        "place": _place(),
        "position": _position(),
        "mark": _position(name=_name()),
    }


def _part() -> Schema:
    stock = {
        "section": {"$ref": "#/$defs/section"},
        "length": BAR_LENGTH.schema(),
    }
    return _object(
        {
            "key": _KEY,
            "name": _words(60, needed=True),
            "quantity": COUNT.schema(),
            "material": {"anyOf": [{"enum": list(MATERIALS)}, {"$ref": "#/$defs/own_material"}]},
            "stock": _object(stock, needed=("section", "length")),
            "steps": _list({"$ref": "#/$defs/step"}, document.MOST_STEPS),
        },
        needed=("key", "name", "stock"),
    )


def _own_material() -> Schema:
    heat = own_material.HEAT.schema()
    band = {"type": "array", "items": heat, "minItems": 2, "maxItems": 2}
    return _object(
        {
            "title": _words(own_material.TITLE_LIMIT, needed=True),
            "density": {"description": "kg/m³", **own_material.DENSITY.schema()},
            "carbon": {"description": "% by mass", **own_material.CARBON.schema()},
            "forging": {"description": "°C, from and to", **band},
            "welding": {"anyOf": [band, {"type": "null"}]},
            "burns_at": heat,
            "magnetic_to": heat,
            "note": _words(own_material.NOTE_LIMIT),
        },
        needed=("title", "density", "carbon", "forging", "burns_at"),
    )


def _step() -> Schema:
    step = _object(
        {
            "key": _KEY,
            "operation": {"enum": list(catalogue())},
            "version": VERSION_NUMBER.schema(),
            "params": {"type": "object"},
            "heats": HEATS.schema(),
            "welding_heats": HEATS.schema(),
            "heated": {"anyOf": [{"$ref": "#/$defs/place"}, {"type": "null"}]},
            "tongs": _words(80),
            "note": _words(10_000, lines=True),
            "photos": _list({"$ref": "#/$defs/photo"}, document.MOST_PHOTOS),
            "silenced": _silenced(),
            "evidence": {"anyOf": [evidence_schema(), {"type": "null"}]},
            "deviation": _words(DEVIATION_LIMIT),
        },
        needed=("key", "operation"),
    )
    return {**step, "allOf": [_parameters_of(kind) for kind in catalogue().values()]}


def _parameters_of(kind: type[Operation]) -> Schema:
    """Return the rule that a step of this operation has this operation's parameters."""
    own: Schema = {
        "properties": {
            "params": {"$ref": f"#/$defs/params_{kind.id}"},
            "version": {"maximum": kind.version},
        }
    }
    if kind.one_of or _needed(kind):
        own["required"] = ["params"]
    return {"if": {"properties": {"operation": {"const": kind.id}}, "required": ["operation"]}, "then": own}


def params_schema(kind: type[Operation]) -> Schema:
    """Return the JSON Schema of what a step of an operation is told."""
    needed = _needed(kind)
    described = {
        name: {"title": param.label, **({"description": param.help} if param.help else {})}
        | (param.schema() if name in needed else {"anyOf": [param.schema(), {"type": "null"}]})
        for name, param in kind.params().items()
    }
    own = {"title": kind.title, "description": kind.help, **_object(described, needed=needed)}
    if kind.one_of:
        own["allOf"] = [{"oneOf": [_given(name) for name in names]} for names in kind.one_of]
    return own


def _needed(kind: type[Operation]) -> tuple[str, ...]:
    """Return the parameters that must be given; those of which one is chosen are not among them."""
    chosen = {name for names in kind.one_of for name in names}
    return tuple(
        name
        for name, param in kind.params().items()
        if param.required and kind.default(name) is None and name not in chosen
    )


def _given(name: str) -> Schema:
    return {"required": [name], "properties": {name: {"not": {"type": "null"}}}}


def _silenced() -> Schema:
    return {
        "type": "object",
        "propertyNames": {"pattern": f"^{document.CODE.pattern}$"},
        "additionalProperties": _words(document.REASON_LIMIT, needed=True),
        "maxProperties": document.MOST_SILENCED,
    }


def _photo() -> Schema:
    digest = {"type": "string", "pattern": f"^{document.DIGEST.pattern}$"}
    marks = _list({"$ref": "#/$defs/annotation"}, MOST_ANNOTATIONS)
    described = {"digest": digest, "alt": _words(300), "caption": _words(300), "annotations": marks}
    described |= {"credit": _words(document.CREDIT_LIMIT), "of_original": {"type": "boolean"}}
    return _object(described, needed=("digest", "alt"))


def _section() -> Schema:
    size = {"type": "number", "minimum": SMALLEST, "maximum": LARGEST}
    weight = {"anyOf": [size, {"const": 0}]}
    named = [
        _object({"shape": {"const": shape}, **dict.fromkeys(names, size)}, needed=("shape", *names))
        for shape, names in DIMENSIONS.items()
    ]
    blend = _object({"shape": {"const": "blend"}, **dict.fromkeys(NAMES, weight)}, needed=("shape",))
    return {"oneOf": [*named, blend]}


def _place() -> Schema:
    place = _object(
        {
            "on": _name(),
            "datum": {"enum": ["whole", "start", "end", "centre", "mark", "between"]},
            "offset": _DISTANCE,
            "length": {"anyOf": [_DISTANCE, {"type": "null"}]},
            "mark": _words(NAME_LIMIT),
            "mark_to": _words(NAME_LIMIT),
            "toward": {"enum": ["start", "end", "both"]},
        },
        needed=("on",),
    )
    between: Schema = {"mark": {"minLength": 1}, "mark_to": {"minLength": 1}}
    return place | {
        "allOf": [_measured_from_a_mark(), _if_datum("between", between)],
    }


def _position(**more: Schema) -> Schema:
    position = _object(
        {
            **more,
            "on": _name(),
            "datum": {"enum": ["start", "end", "centre", "mark"]},
            "offset": _DISTANCE,
            "mark": _words(NAME_LIMIT),
            "toward": {"enum": ["start", "end"]},
        },
        needed=(*more, "on"),
    )
    return position | {"allOf": [_measured_from_a_mark()]}


def _measured_from_a_mark() -> Schema:
    return _if_datum("mark", {"mark": {"minLength": 1}})


def _if_datum(datum: str, then: Schema) -> Schema:
    rule = {"properties": then, "required": list(then)}
    return {"if": {"properties": {"datum": {"const": datum}}, "required": ["datum"]}, "then": rule}


# -- small pieces ------------------------------------------------------------------------------------


def _name() -> Schema:
    return _words(NAME_LIMIT, needed=True)
