"""Methods are found in Java texts without a compiler, as far as words can tell."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from java.java_tools import HERE, exported

from planner.java import lacking_in
from planner.java.java_text import blanked, declared_in, words_of

# What the parts of a declaration are stands in the Java Language Specification, Java SE 8, section
# 8.4: modifiers and annotations, type parameters, result, name, parameters, throws, body.
TWO = [("a", 0), ("c", 0)]
DECLARATIONS = [
    ("void a() {}", [("a", 0)]),
    ("public final double a(double x) { return x; }", [("a", 1)]),
    ("private static int[] a(int[] x, int... y) { }", [("a", 2)]),
    ("Map<String, List<Integer>> a(Map<String, Integer> x) { }", [("a", 1)]),
    ("<T extends Comparable<T>> T a(T x, T y) { }", [("a", 2)]),
    ('@Override @SuppressWarnings({"a(b)", "c"}) public void a() { }', [("a", 0)]),
    ('void a(@Named("x,y") int x, final int y) { }', [("a", 2)]),
    ("void a() throws IOException, Wrong { }", [("a", 0)]),
    ("int a(); double b(int x) throws Wrong;", [("a", 0), ("b", 1)]),
    ("void a\n(\nint x\n)\n{\n}", [("a", 1)]),
    ("void a(/* int x, */ int y) { } // void b() { }", [("a", 1)]),
    ('/* void b() { } */ String a() { return "void b() { }"; }', [("a", 0)]),
    ("char a() { return '\"'; } char b() { return '\\''; }", [("a", 0), ("b", 0)]),
    ("void a() { b(); c.d(1, 2); return e(3); }", [("a", 0)]),
    ("int a() { return b(1); } int c() { int d = e(1); if (x) { f(); } else g(); }", TWO),
    ("X x = new X(1) { void a(int y) { } };", [("a", 1)]),
    ("Runnable r = () -> { b(); }; void a() { while (c(1)) { } }", [("a", 0)]),
    ("boolean q = p > b(1); void a() { for (int i = b(0); i < c(2); i++) { } }", [("a", 0)]),
    ("enum E { ONE(1) { }, TWO(2); E(int x) { } int a() { } }", [("a", 0)]),
    ("int x = 3; int[] y = {f(1), g(2)}; void a() { }", [("a", 0)]),
]


@pytest.mark.parametrize(("text", "expected"), DECLARATIONS)
def test_declarations(text: str, expected: list[tuple[str, int]]) -> None:
    """Declarations are told from calls, and their parameters counted (JLS 8.4)."""
    found = declared_in(f"class Mine {{ {text} }}")

    assert expected == [(method.name, method.parameters) for method in found]


def test_owners() -> None:
    """A method belongs to the innermost class or interface around it."""
    inner = "interface B { void b(); } static class C { void c() { } }"
    text = f"class A {{ void a() {{ }} {inner} void d() {{ }} }}"

    assert [("A", "a"), ("B", "b"), ("C", "c"), ("A", "d")] == [
        (method.owner, method.name) for method in declared_in(text)
    ]


def test_a_method_s_place() -> None:
    """A method reaches from its first word to its closing brace."""
    text = "class A { int x; private void a() { if (x) { b(); } } void c(); }"

    assert ["private void a() { if (x) { b(); } }", "void c();"] == [
        text[method.start : method.end] for method in declared_in(text)
    ]
    assert [True, False] == [method.private for method in declared_in(text)]


@given(st.text(alphabet="ab(){}[]<>;,=.\"'/*\\\n @", max_size=60))
def test_any_text_will_do(text: str) -> None:
    """A text that is no Java makes no trouble, and blanking it moves nothing."""
    declared_in(text)
    blank = blanked(text)

    assert len(text) == len(blank)
    assert [ch == "\n" for ch in text] == [ch == "\n" for ch in blank]


def test_nothing_is_lacking_where_nothing_was_taken_away() -> None:
    """A file as exported lacks nothing, and what is taken out of it comes back word for word."""
    files = exported((HERE / "table_top.routine").read_text(encoding="utf-8"), "org.mothclub")
    for path, text in files.items():
        assert () == lacking_in(path, files, text)
    path = "org/mothclub/mechanisms/Drive.java"
    text = files[path]
    forward = next(m for m in declared_in(text) if m.name == "forward")
    without = text[: forward.start] + text[forward.end :]
    (lacking,) = lacking_in(path, files, without)
    assert "Drive" == lacking.owner
    assert f"    {text[forward.start : forward.end]}" == lacking.code.partition("*/\n")[2]
    # As a comment or under another number of parameters it is still lacking.
    commented = without.replace(
        "    /** Whether", "    // void forward(double x) { }\n    /** Whether"
    )
    assert (lacking,) == lacking_in(path, files, commented)
    wider = text.replace("forward(double powerPercent)", "forward(double powerPercent, int x)")
    assert ["Drive"] == [part.owner for part in lacking_in(path, files, wider)]


def test_what_nobody_calls_is_not_lacking() -> None:
    """A method that no other file of the export calls may go."""
    files = exported((HERE / "table_top.routine").read_text(encoding="utf-8"), "org.mothclub")
    path = "org/mothclub/mechanisms/Drive.java"
    text = files[path]
    spin = next(m for m in declared_in(text) if m.name == "spin")

    assert () == lacking_in(path, files, text[: spin.start] + text[spin.end :])
    assert "spin" not in words_of(text[: spin.start] + text[spin.end :])
