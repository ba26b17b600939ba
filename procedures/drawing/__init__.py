"""Drawings of procedures, made from their frames alone: to scale, in SVG, for screen, phone and paper."""

from .part_drawing import PartDrawing

__all__ = ["PartDrawing"]
