"""A plan and its robot as Java source files."""

from planner.java.errors import CannotExport
from planner.java.export import export, export_tests
from planner.java.manifest import (
    MANIFEST,
    NOTHING,
    Manifest,
    NotAManifestError,
    manifest_of,
    manifest_text,
    read_manifest,
    together,
)
from planner.java.placing import in_order, is_for_one_combination, taken_away_first
from planner.java.renames import Rename, renames
from planner.java.seal import is_sealed, made_from
from planner.java.team_code import (
    Lacking,
    OldName,
    Unwritten,
    lacking_in,
    old_names_in,
    unwritten_in,
)

__all__ = [
    "MANIFEST",
    "NOTHING",
    "CannotExport",
    "Lacking",
    "Manifest",
    "NotAManifestError",
    "OldName",
    "Rename",
    "Unwritten",
    "export",
    "export_tests",
    "in_order",
    "is_for_one_combination",
    "is_sealed",
    "lacking_in",
    "made_from",
    "manifest_of",
    "manifest_text",
    "old_names_in",
    "read_manifest",
    "renames",
    "taken_away_first",
    "together",
    "unwritten_in",
]
