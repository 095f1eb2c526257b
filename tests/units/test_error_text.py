"""How an error reads: where, what, what was found, what is allowed, what to do. Our own choice; no source needed."""

from bladewright.errors import BadInput


def test_the_wrong_text_is_shown_once_and_cannot_steer_a_terminal() -> None:
    error = BadInput("is not in the book", field="serial", value="01\x1b[2J", allowed="a started serial")
    assert str(error).splitlines() == [
        "serial: is not in the book",
        '  found: "01\\x1b[2J"',
        "  allowed: a started serial",
    ]
    assert "found" not in str(BadInput("'6' has no unit", value="6"))
    assert len(str(BadInput("is too long", value="x" * 5000))) < 120
