"""A source text and the places in it."""

from planner.text.decode import NotTextError, decode, encode
from planner.text.source import Place, Source

__all__ = ["NotTextError", "Place", "Source", "decode", "encode"]
