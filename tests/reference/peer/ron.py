"""Reads the plain part of RON that the catalogue is written in.

`(a: 1)` becomes a dict, `(1, 2)` and `[1, 2]` lists, `Name` a text, `Name(…)` a pair of its name and
the list in its brackets.
"""

import json
import re

TOKEN = re.compile(r'\s+|//[^\n]*|/\*.*?\*/|"(?:[^"\\]|\\.)*"|[-+]?[0-9][0-9.eE+-]*|[A-Za-z_]\w*|[()\[\],:]', re.S)


def tokens(text):
    place = 0
    while place < len(text):
        found = TOKEN.match(text, place)
        if not found:
            raise ValueError(f"not understood: {text[place:place + 30]!r}")
        place = found.end()
        word = found.group()
        if not word[0].isspace() and not word.startswith(("//", "/*")):
            yield word


def value(words, at):
    """The value that starts at a token, and the token behind it."""
    word = words[at]
    if word == "[":
        return items(words, at + 1, "]")
    if word == "(":
        if words[at + 1] != ")" and words[at + 2] == ":":
            return fields(words, at + 1)
        return items(words, at + 1, ")")
    if word[0] == '"':
        return word[1:-1], at + 1
    if word[0].isdigit() or word[0] in "+-":
        return float(word), at + 1
    if words[at + 1] == "(":
        inside, behind = value(words, at + 1)
        return (word, inside), behind
    return word, at + 1


def items(words, at, close):
    found = []
    while words[at] != close:
        item, at = value(words, at)
        found.append(item)
        at += words[at] == ","
    return found, at + 1


def fields(words, at):
    found = {}
    while words[at] != ")":
        name = words[at]
        found[name], at = value(words, at + 2)
        at += words[at] == ","
    return found, at + 1


def read(path):
    words = [*tokens(path.read_text()), ""]
    return value(words, 0)[0]


def layout(path):
    """A layout file in either notation, as the JSON of the format: a kind with fields is an object with one key."""
    if path.suffix == ".json":
        return json.loads(path.read_text())
    return plain(read(path))


def plain(held):
    if isinstance(held, dict):
        return {key: plain(one) for key, one in held.items()}
    if isinstance(held, list):
        return [plain(one) for one in held]
    if isinstance(held, tuple):
        word, inside = held
        if word == "Some":
            return plain(inside[0])
        return {word: {} if inside == [] else plain(inside[0] if isinstance(inside, list) else inside)}
    return {"true": True, "false": False, "None": None}.get(held, held) if isinstance(held, str) else held
