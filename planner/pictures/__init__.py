"""A plan as a picture: pure text out, nothing drawn and nothing written here."""

from planner.pictures.dot import picture

__all__ = ["picture"]
