"""A YAML file as plain text values, with the line of everything in it.

Every scalar stays text until a field type gives it meaning, so that `no`, `12:30` and `010` are never guessed
at.  Anchors, aliases and tags are refused: a form has no use for them and they can grow without end.
"""

from __future__ import annotations

import codecs
import re
from pathlib import Path
from typing import Any

import yaml
from msgspec import Struct, field

from sitegen.errors import BrokenInstall, Fault

MOST_BYTES = 1_000_000
MOST_DEPTH = 12
MOST_VALUES = 20_000

BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
"""What ends a line for YAML."""

WIDE = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)
"""How a file begins that a spreadsheet program saved as Unicode text."""

Path_ = tuple[str | int, ...]


class Document(Struct):
    """One file as read: its data, the line of each value and key by path, and what was wrong with it."""

    file: str
    data: dict[str, Any] = field(default_factory=dict)
    values: dict[Path_, int] = field(default_factory=dict)
    keys: dict[Path_, int] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def line(self, path: Path_) -> int:
        """The line of a value, or of the nearest thing around it."""
        while path:
            if path in self.values or path in self.keys:
                return self.keys.get(path, 0) or self.values[path]
            path = path[:-1]
        return 1

    def fault(self, path: Path_, problem: str, remedy: str) -> Fault:
        """A fault at `path` of this file."""
        return Fault(self.file, self.line(path), spoken(path), one_line(problem), one_line(remedy))


def one_line(text: str) -> str:
    """Text as it can stand in a message: on one line, with a mark for what cannot be printed."""
    return "".join(c if c.isprintable() else " " if c.isspace() else "\ufffd" for c in text)


def short(text: str, most: int = 60) -> str:
    """Somebody's text as it is quoted in a message."""
    said = one_line(text)
    return said if len(said) <= most else said[:most - 3] + "..."


def spoken(path: Path_) -> str:
    """A path as a person reads it: `rooms[3].opened old.outlet`, counting from one."""
    said = ""
    for part in path:
        if isinstance(part, int):
            said += f"[{part + 1}]"
        else:
            said += ("." if said else "") + short(part)
    return said


def read(path: Path, shown: str) -> Document:
    """Read one file; everything that is wrong with it stands in `faults`."""
    document = Document(shown)
    text = text_of(path, document)
    return document if text is None else taken_apart(text, shown)


def taken_apart(text: str, shown: str) -> Document:
    """The lines of a file as data; everything that is wrong with them stands in `faults`."""
    document = Document(shown)
    if not yaml.__with_libyaml__:
        raise BrokenInstall("PyYAML was built without libyaml; install a PyYAML wheel that has it")
    try:
        if not _refuse_tricks(text, document):
            return document
        node = yaml.compose(text, Loader=yaml.CSafeLoader)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line = min(mark.line, len(BREAK.split(text)) - 1) + 1 if mark else 1
        document.faults.append(Fault(shown, line, "", *_syntax(error, text)))
        return document
    except yaml.YAMLError:
        document.faults.append(Fault(shown, 1, "", "This is not YAML text.", "Start again from an example job."))
        return document
    if not isinstance(node, yaml.MappingNode):
        document.faults.append(Fault(shown, 1, "", "The file must be lines of the form `key: value`.",
                                     "Start again from an example job."))
        return document
    data = _plain(node, (), document)
    document.data = data if isinstance(data, dict) else {}
    return document


def text_of(path: Path, document: Document) -> str | None:
    """The text of a file, or None with a fault on the document that says why not."""
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            document.faults.append(Fault(document.file, 0, "", f"The file holds {size:,} bytes; at most "
                                         f"{MOST_BYTES:,} are read.", "Keep photographs in files of their own."))
            return None
        raw = path.read_bytes()
    except OSError:
        document.faults.append(Fault(document.file, 0, "", "There is no such file, or it cannot be read.",
                                     "Make it, or mend its name or its permissions."))
        return None
    if not raw.strip():
        document.faults.append(Fault(document.file, 0, "", "The file is empty.", "Start from an example."))
        return None
    try:
        text = raw.decode("utf-16" if raw.startswith(WIDE) else "utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[:error.start].count(b"\n") + 1
        document.faults.append(Fault(document.file, line, "", "This is not text in UTF-8.",
                                     "Save the file as plain text, UTF-8."))
        return None
    odd = re.search(r"[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", text)
    if odd:
        document.faults.append(Fault(document.file, text.count("\n", 0, odd.start()) + 1, "",
                                     "There is a control character in this line.", "Type the line again."))
        return None
    return text


def _refuse_tricks(text: str, document: Document) -> bool:
    """Whether the file keeps to plain keys, values and lists; reads events alone, so nothing can grow."""
    depth, sound = 0, True
    for count, event in enumerate(yaml.parse(text, Loader=yaml.CSafeLoader)):
        line = event.start_mark.line + 1 if event.start_mark else 1
        if count > MOST_VALUES:
            document.faults.append(Fault(document.file, line, "", f"More than {MOST_VALUES:,} keys and values stand "
                                         "above this line.", "A house needs some hundreds: look for a paste too many."))
            return False
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > MOST_DEPTH:
                document.faults.append(Fault(document.file, line, "", "Lists stand inside lists too deep.",
                                             f"Nothing here needs more than {MOST_DEPTH} levels."))
                return False
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        odd = None
        if isinstance(event, yaml.AliasEvent):
            odd = f"`*{short(str(event.anchor))}` points at another part of the file."
        elif isinstance(event, yaml.NodeEvent) and event.anchor:
            odd = f"`&{short(event.anchor)}` names a part of the file to be used again."
        elif (tag := getattr(event, "tag", None)) not in (None, "!"):
            odd = f"`{short(tag)}` forces a type."
        if odd:
            document.faults.append(Fault(document.file, line, "", odd,
                                         "Write the value out; put it in quotes if it starts with & * or !."))
            sound = False
    return sound


def _plain(node: yaml.Node, path: Path_, document: Document) -> Any:
    document.values[path] = node.start_mark.line + 1
    if isinstance(node, yaml.ScalarNode):
        return node.value
    if isinstance(node, yaml.SequenceNode):
        return [_plain(item, (*path, i), document) for i, item in enumerate(node.value)]
    assert isinstance(node, yaml.MappingNode)
    data: dict[str, Any] = {}
    split = _split_money(node)
    for key_node, value_node in node.value:
        line = key_node.start_mark.line + 1
        if not isinstance(key_node, yaml.ScalarNode):
            document.faults.append(Fault(document.file, line, spoken(path), "A key must be plain words.",
                                         "Write `key: value`."))
            continue
        key = key_node.value
        if key_node in split:
            document.faults.append(Fault(
                document.file, line, spoken(path), f"A comma splits this amount inside {{ }}: `,{key}` was read as a "
                "new key.", "Put each amount on a line of its own, without { }."))
            continue
        if key in data:
            document.faults.append(Fault(document.file, line, spoken((*path, key)),
                                         f"`{short(key)}` stands here twice; the first is in line "
                                         f"{document.keys[*path, key]}.",
                                         "Keep one of them."))
            continue
        document.keys[*path, key] = line
        data[key] = _plain(value_node, (*path, key), document)
    return data


def _split_money(node: yaml.MappingNode) -> list[yaml.Node]:
    """Keys that are the tail of an amount, as in {low: $3,200}: three digits, no value, in flow style."""
    return [key for key, value in node.value if node.flow_style and isinstance(key, yaml.ScalarNode)
            and re.fullmatch(r"\d{3}(\.\d+)?", key.value) and isinstance(value, yaml.ScalarNode) and not value.value]


def _syntax(error: yaml.MarkedYAMLError, text: str) -> tuple[str, str]:
    """The first syntax error in words of our own; a YAML file can honestly report no more than the first."""
    problem = (error.problem or "").lower()
    if "tab" in problem or "\\t" in problem or "cannot start any token" in problem:
        mark = error.problem_mark
        line = text.splitlines()[mark.line] if mark and mark.line < len(text.splitlines()) else ""
        if "\t" in line:
            return "A tab stands where spaces are wanted.", "Use spaces to set lines in."
    if "mapping values are not allowed" in problem:
        return "A second colon, or a line set in too far.", "Put words that hold a colon in quotes; line keys up."
    if "expected <block end>" in problem or "did not find expected key" in problem:
        return "This line is not set in like its neighbours.", "Line it up with the key or dash that it belongs to."
    if "did not find expected ',' or" in problem:
        return "A bracket opened before this line is not closed.", "Close it, or write one value a line."
    if "quoted scalar" in (error.context or ""):
        return "A quote opened before this line is not closed.", "Close it with the same kind of quote."
    if "depth" in problem or "nesting" in problem:
        return "Lists stand inside lists too deep.", f"Nothing here needs more than {MOST_DEPTH} levels."
    return "The file cannot be read past this line.", "Look for a missing colon, quote or bracket here or above."
