"""The clients of a table (CSV or spreadsheet) or of a folder of body files, read and held apart before anything is drawn."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from ..bodies.cells import lines_of
from ..bodies.clients import BESIDE, BESIDE_BODIES, Client, LabelledBy, of_body_file, of_lines
from ..bodies.columns import Column, columns_of, mapping
from ..diagnostics import client_words as words
from ..diagnostics import running_words
from ..diagnostics.diagnostic import Diagnostic, Span
from ..syntax.source import decode
from .charts import table_text
from .files import Files, read


@dataclass(frozen=True)
class ClientTable:
    """Clients as they stand, those that cannot be read among them; the columns as they are called, what parts cells, what is told
    of the table itself, and texts by the names places call them."""

    path: str
    clients: tuple[Client, ...] = ()
    head: tuple[str, ...] = ("file",)
    separator: str = ","
    told: tuple[Diagnostic, ...] = ()
    texts: Mapping[str, str] = field(default_factory=dict)


def read_clients(files: Files, path: str, columns: str = "", label: LabelledBy = "name", has_choices: bool = True) -> ClientTable:
    """The clients of a file or a folder; `columns` is the path of what columns mean ("": our words). A table that `has_choices`
    may set choices of the style."""
    if files.is_folder(path):
        return _of_folder(files, path)
    mapped, told, texts = _mapping(files, columns)
    text, problems = table_text(files, path)
    if text is None or any(one.is_error for one in told):
        return ClientTable(path, told=(*told, *problems), texts=texts)
    texts = {**texts, path: text}
    separator, lines = lines_of(text, path)
    if len(lines) < 2:
        return ClientTable(path, told=(*told, words.nobody(path)), texts=texts)
    head = tuple(cell.text for cell in lines[0].cells)
    meaning, found = columns_of(path, head, mapped, BESIDE if has_choices else BESIDE_BODIES)
    told = (*told, *found)
    if any(one.is_error for one in told):
        return ClientTable(path, told=told, texts=texts)
    clients = tuple(of_lines(path, lines[1:], meaning, separator, label))
    return ClientTable(path, clients, head, separator, told, texts)


def _mapping(files: Files, path: str) -> tuple[tuple[Column, ...], tuple[Diagnostic, ...], dict[str, str]]:
    if not path:
        return (), (), {}
    content, problem = read(files, path)
    if content is None:
        return (), (problem,) if problem else (), {}
    text, problems = decode(content, path)
    lines, wrong = ((), ()) if text is None else mapping(path, text, BESIDE)
    return lines, (*problems, *wrong), {} if text is None else {path: text}


def _of_folder(files: Files, folder: str) -> ClientTable:
    clients, texts, told = [], {}, list[Diagnostic]()
    for path in files.listed(folder, ".toml"):
        content, problem = read(files, path)
        text, problems = (None, (problem,) if problem else ()) if content is None else decode(content, path)
        if text is None:
            clients.append(Client(Span(path, 0, 1), path, (path,), "", "", None, problems))
            continue
        clients.append(of_body_file(path, text))
        if clients[-1].told:
            texts[path] = text
    if not clients:
        told.append(running_words.no_bodies(folder))
    return ClientTable(folder, tuple(clients), told=tuple(told), texts=texts)


def held_apart(clients: Sequence[Client], stem: str, endings: Sequence[str]) -> tuple[Diagnostic, ...]:
    """Clients of one identity, or with a file of one name, also where a system takes capitals and forms of a letter for one."""
    found = list[Diagnostic]()
    for _, one, other in _meeting((one.id, one) for one in clients if one.id):
        found.append(words.same_id(other.id, (one.span, other.span), (one.where, other.where)))
    names = ((f"{stem}_{one.file_name}{ending}", one) for one in clients if one.label for ending in endings)
    told = set[tuple[str, str]]()
    for file, one, other in _meeting((unicodedata.normalize("NFKC", name).casefold(), one) for name, one in names):
        if one.id != other.id and (one.where, other.where) not in told:
            told.add((one.where, other.where))
            labels, places = (one.label, other.label), (one.span, other.span)
            found.append(words.same_file(labels, places, (one.where, other.where), file))
    return tuple(found)


def _meeting(keyed: Iterable[tuple[str, Client]]) -> Iterator[tuple[str, Client, Client]]:
    """Each client that comes to a key another has come to, with that."""
    known: dict[str, Client] = {}
    for key, one in keyed:
        other = known.setdefault(key, one)
        if other is not one:
            yield key, other, one
