"""A pattern as DXF for a laser or a plotter: R2010, mm, a layer a kind, arcs as arcs."""

from __future__ import annotations

import io

from .pattern import Arc, Layer, Line, Pattern, Words

_COLOURS: dict[Layer, int] = {"outline": 7, "centre": 5, "marks": 1, "text": 3}  # by the index of AutoCAD
_CAPITALS = 0.7  # of the letter size: how high DXF's own letters stand
_NARROW = 0.8  # width factor of a plain font, for words that were laid out in a condensed one


def dxf_of(pattern: Pattern, rights: str = "") -> str:
    """Return a pattern as the text of a DXF file; `rights` goes with it as a property of the drawing."""
    import ezdxf  # slow to import, and most requests write none
    from ezdxf.enums import TextEntityAlignment

    made = ezdxf.new("R2010", setup=["linetypes"], units=ezdxf.units.MM)
    for layer, colour in _COLOURS.items():
        made.layers.add(layer, color=colour, linetype="CENTER" if layer == "centre" else "Continuous")
    made.styles.add("pattern", font="arial.ttf").dxf.width = _NARROW
    made.header["$LTSCALE"] = 0.25
    if rights:
        made.header.custom_vars.append("Rights", rights)
    space = made.modelspace()
    sides = {
        "start": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "end": TextEntityAlignment.RIGHT,
    }
    for one in pattern.items:
        look: dict[str, str] = {"layer": one.layer}
        if isinstance(one, Line | Arc) and one.dashed:
            look["linetype"] = "DASHED"
        if isinstance(one, Line):
            space.add_lwpolyline(one.spots, close=one.closed, dxfattribs=look)
        elif isinstance(one, Words):
            more = {"style": "pattern", "rotation": one.turned, **look}
            written = space.add_text(one.words, height=_CAPITALS * one.size, dxfattribs=more)
            written.set_placement(one.at, align=sides[one.anchor])
        elif one.is_circle:
            space.add_circle(one.centre, one.radius, dxfattribs=look)
        else:
            space.add_arc(one.centre, one.radius, one.start, one.end, dxfattribs=look)
    text = io.StringIO()
    made.write(text)
    return text.getvalue()
