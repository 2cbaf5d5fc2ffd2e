"""The language service as a language server: positions and kinds as the protocol has them."""

from __future__ import annotations

import asyncio
import inspect
from collections.abc import Callable, Iterable
from functools import lru_cache, wraps
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlparse

from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcException
from pygls.lsp.server import LanguageServer

from procedure import __version__
from procedure.collection.files import NotText
from procedure.findings import Edit, Finding
from procedure.service import colouring
from procedure.service.answers import formatted
from procedure.service.beside import besides
from procedure.service.choosing import choices
from procedure.service.clause_help import clause_help
from procedure.service.desk import Desk
from procedure.service.remedies import Remedy, remedies
from procedure.service.renaming import CannotRename, Use, declared_at, name_at, rename, uses
from procedure.service.shape import OutlineEntry, folds, outline
from procedure.service.telling import told

# So long nothing is checked after a keystroke: a newer one drops the older.
PAUSE = 0.08
_LEVELS = {
    "error": lsp.DiagnosticSeverity.Error,
    "warning": lsp.DiagnosticSeverity.Warning,
    "note": lsp.DiagnosticSeverity.Information,
}
_CHOICES = {
    "verb": lsp.CompletionItemKind.Function,
    "clause": lsp.CompletionItemKind.Keyword,
    "name": lsp.CompletionItemKind.Variable,
    "amount": lsp.CompletionItemKind.Value,
    "unit": lsp.CompletionItemKind.Unit,
    "word": lsp.CompletionItemKind.Text,
    "section": lsp.CompletionItemKind.Module,
}
_HEADINGS = {
    "section": lsp.SymbolKind.Namespace,
    "thing": lsp.SymbolKind.Variable,
    "step": lsp.SymbolKind.Function,
    "block": lsp.SymbolKind.Array,
}


class Server(LanguageServer):
    """A server with a desk, and the check that waits for a pause in the typing."""

    def __init__(self) -> None:
        super().__init__("vatwright", __version__)
        self.desk = Desk()
        self.waiting: dict[Path, asyncio.Task[None]] = {}

    def feature(self, feature_name: str, options: Any = None) -> Callable[[Any], Any]:
        """As pygls has it; what cannot be done is refused in a sentence, which editors show."""
        register = super().feature(feature_name, options)
        return lambda act: register(act if inspect.iscoroutinefunction(act) else refusing(act))


def refusing(act: Callable[..., Any]) -> Callable[..., Any]:
    """An answer that is refused where its document cannot be read or its name not be changed."""

    @wraps(act)
    def answered(*asked: Any) -> Any:
        try:
            return act(*asked)
        except OSError as reason:
            said = f"{Path(reason.filename or '').name}: {(reason.strerror or '').lower()}."
        except (NotText, CannotRename) as reason:
            said = str(reason)
        raise JsonRpcException(said, lsp.LSPErrorCodes.RequestFailed)

    return answered


# ------------------------------------------------------------------ places


def path_of(uri: str) -> Path:
    """The path of a document; one without a file gets its name in the present folder."""
    parts = urlparse(uri)
    said = unquote(parts.path)
    if parts.scheme != "file":
        return Path.cwd() / (Path(said).name or "text.dye")
    if len(said) > 2 and said[0] == "/" and said[2] == ":":
        said = said[1:]
    return Path(said).resolve()


def units(text: str) -> int:
    """How many UTF-16 units a text takes, by which the protocol counts columns."""
    return len(text) + sum(character > "\uffff" for character in text)


def line_of(text: str, number: int) -> str:
    """A line by its number from 1; empty where there is none."""
    lines = _lines(text)
    return lines[number - 1] if 0 < number <= len(lines) else ""


@lru_cache(maxsize=8)
def _lines(text: str) -> tuple[str, ...]:
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    return tuple(plain.split("\n"))


def position(text: str, line: int, column: int) -> lsp.Position:
    """A place of the service as one of the protocol."""
    return lsp.Position(max(line - 1, 0), units(line_of(text, line)[: column - 1]))


def column_of(text: str, place: lsp.Position) -> int:
    """The column of a place of the protocol, in characters from 1."""
    line, seen = line_of(text, place.line + 1), 0
    for column, character in enumerate(line, 1):
        if seen >= place.character:
            return column
        seen += units(character)
    return len(line) + 1


def span(text: str, line: int, column: int, to: int) -> lsp.Range:
    """Columns of one line as a range."""
    return lsp.Range(position(text, line, column), position(text, line, to))


# ------------------------------------------------------------------ findings


def diagnostic(text: str, uri: str, one: Finding) -> lsp.Diagnostic:
    """A finding of the document itself."""
    related = [
        lsp.DiagnosticRelatedInformation(
            lsp.Location(uri, span(text, r.line, r.column, r.to)), r.sentence
        )
        for r in one.related
        if r.file == one.file
    ]
    allowed = f" Allowed: {one.allowed}" if one.allowed else ""
    return lsp.Diagnostic(
        range=span(text, one.line, one.column, one.to),
        message=f"{one.sentence} {one.remedy}{allowed}",
        severity=_LEVELS[one.level],
        code=one.rule,
        source="vatwright",
        related_information=related,
    )


def check(server: Server, path: Path, uri: str) -> None:
    """Judge a document and tell the editor."""
    try:
        plan = server.desk.plan(path)
    except (OSError, NotText):
        return
    found = [diagnostic(plan.text, uri, one) for one in plan.findings if one.key == plan.model.key]
    server.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri, found))


async def check_soon(server: Server, path: Path) -> None:
    """Check what a change may touch, after a pause; a newer change drops this."""
    await asyncio.sleep(PAUSE)
    for other in server.desk.touched(path):
        await asyncio.sleep(0)  # a newer change may have come meanwhile
        check(server, other, other.as_uri())


def changed(server: Server, path: Path) -> None:
    """A document has changed: what was waiting for it is dropped."""
    waiting = server.waiting.pop(path, None)
    if waiting is not None:
        waiting.cancel()
    server.waiting[path] = asyncio.ensure_future(check_soon(server, path))


# ------------------------------------------------------------------ the server


def server() -> Server:
    """The server with everything that it answers."""
    made = Server()
    _documents(made)
    _writing(made)
    _names(made)
    _whole(made)
    return made


def _documents(made: Server) -> None:
    @made.feature(lsp.TEXT_DOCUMENT_DID_OPEN)
    async def opened(server: Server, params: lsp.DidOpenTextDocumentParams) -> None:
        path = path_of(params.text_document.uri)
        server.desk.put(path, params.text_document.text)
        check(server, path, params.text_document.uri)

    @made.feature(lsp.TEXT_DOCUMENT_DID_CHANGE)
    async def typed(server: Server, params: lsp.DidChangeTextDocumentParams) -> None:
        uri = params.text_document.uri
        path = path_of(uri)
        server.desk.put(path, server.workspace.get_text_document(uri).source)
        changed(server, path)

    @made.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    async def closed(server: Server, params: lsp.DidCloseTextDocumentParams) -> None:
        server.desk.close(path_of(params.text_document.uri))
        none = lsp.PublishDiagnosticsParams(params.text_document.uri, [])
        server.text_document_publish_diagnostics(none)


def _writing(made: Server) -> None:
    @made.feature(
        lsp.TEXT_DOCUMENT_COMPLETION, lsp.CompletionOptions(trigger_characters=[" ", "%"])
    )
    def offered(server: Server, params: lsp.CompletionParams) -> lsp.CompletionList:
        plan = server.desk.plan(path_of(params.text_document.uri))
        column = column_of(plan.text, params.position)
        items = [
            lsp.CompletionItem(
                label=one.text,
                kind=_CHOICES[one.kind],
                detail=one.says,
                sort_text=f"{number:04}",
                text_edit=lsp.TextEdit(span(plan.text, one.line, one.column, one.to), one.text),
            )
            for number, one in enumerate(choices(plan, params.position.line + 1, column))
        ]
        return lsp.CompletionList(is_incomplete=False, items=items)

    @made.feature(lsp.TEXT_DOCUMENT_HOVER)
    def hovered(server: Server, params: lsp.HoverParams) -> lsp.Hover | None:
        plan = server.desk.plan(path_of(params.text_document.uri))
        found = told(plan, params.position.line + 1, column_of(plan.text, params.position))
        if found is None:
            return None
        text = "\n\n".join((found.title, *found.sentences))
        where = span(plan.text, found.line, found.column, found.to)
        return lsp.Hover(lsp.MarkupContent(lsp.MarkupKind.PlainText, text), where)

    @made.feature(
        lsp.TEXT_DOCUMENT_SIGNATURE_HELP, lsp.SignatureHelpOptions(trigger_characters=[" "])
    )
    def helped(server: Server, params: lsp.SignatureHelpParams) -> lsp.SignatureHelp | None:
        text = server.desk.text(path_of(params.text_document.uri))
        found = clause_help(text, params.position.line + 1, column_of(text, params.position))
        if found is None:
            return None
        clauses = [lsp.ParameterInformation(one.form, one.says) for one in found.clauses]
        now = next((i for i, one in enumerate(found.clauses) if one.now), None)
        label = " ".join((found.verb, *(one.form for one in found.clauses)))
        signature = lsp.SignatureInformation(label, found.meaning, clauses, now)
        return lsp.SignatureHelp([signature], 0, now)

    @made.feature(
        lsp.TEXT_DOCUMENT_CODE_ACTION, lsp.CodeActionOptions([lsp.CodeActionKind.QuickFix])
    )
    def cures(server: Server, params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        uri = params.text_document.uri
        plan = server.desk.plan(path_of(uri))
        first, last = params.range.start.line + 1, params.range.end.line + 1
        return [_action(plan.text, uri, one) for one in remedies(plan, first, last)]


def _action(text: str, uri: str, one: Remedy) -> lsp.CodeAction:
    return lsp.CodeAction(
        title=one.says,
        kind=lsp.CodeActionKind.QuickFix,
        is_preferred=one.safe,
        edit=lsp.WorkspaceEdit({uri: _text_edits(text, one.edits)}),
    )


def _text_edits(text: str, edits: Iterable[Edit]) -> list[lsp.TextEdit]:
    return [lsp.TextEdit(span(text, one.line, one.column, one.to), one.text) for one in edits]


def _names(made: Server) -> None:
    def locations(server: Server, found: Iterable[Use]) -> list[lsp.Location]:
        return [
            lsp.Location(one.file.as_uri(), span(text, one.line, one.column, one.to))
            for one in found
            for text in (server.desk.text(one.file),)
        ]

    @made.feature(lsp.TEXT_DOCUMENT_DEFINITION)
    def declared(server: Server, params: lsp.DefinitionParams) -> list[lsp.Location]:
        path = path_of(params.text_document.uri)
        column = column_of(server.desk.text(path), params.position)
        return locations(server, declared_at(server.desk, path, params.position.line + 1, column))

    @made.feature(lsp.TEXT_DOCUMENT_REFERENCES)
    def used(server: Server, params: lsp.ReferenceParams) -> list[lsp.Location]:
        path = path_of(params.text_document.uri)
        column = column_of(server.desk.text(path), params.position)
        named = name_at(server.desk, path, params.position.line + 1, column)
        return locations(server, uses(server.desk, *named) if named else ())

    @made.feature(lsp.TEXT_DOCUMENT_PREPARE_RENAME)
    def renameable(server: Server, params: lsp.PrepareRenameParams) -> lsp.Range | None:
        path = path_of(params.text_document.uri)
        text, line = server.desk.text(path), params.position.line + 1
        column = column_of(text, params.position)
        named = name_at(server.desk, path, line, column)
        for one in uses(server.desk, *named) if named else ():
            if one.file == path and one.line == line and one.column <= column <= one.to:
                return span(text, one.line, one.column, one.to)
        return None

    @made.feature(lsp.TEXT_DOCUMENT_RENAME, lsp.RenameOptions(prepare_provider=True))
    def renamed(server: Server, params: lsp.RenameParams) -> lsp.WorkspaceEdit:
        path = path_of(params.text_document.uri)
        column = column_of(server.desk.text(path), params.position)
        found = rename(server.desk, path, params.position.line + 1, column, params.new_name)
        return lsp.WorkspaceEdit(
            {
                file.as_uri(): _text_edits(server.desk.text(file), edits)
                for file, edits in found.items()
            }
        )


def _whole(made: Server) -> None:
    @made.feature(lsp.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def symbols(server: Server, params: lsp.DocumentSymbolParams) -> list[lsp.DocumentSymbol]:
        text = server.desk.text(path_of(params.text_document.uri))
        return [_symbol(text, one) for one in outline(text)]

    @made.feature(lsp.TEXT_DOCUMENT_FOLDING_RANGE)
    def folded(server: Server, params: lsp.FoldingRangeParams) -> list[lsp.FoldingRange]:
        text = server.desk.text(path_of(params.text_document.uri))
        return [
            lsp.FoldingRange(
                one.first - 1,
                one.last - 1,
                kind=lsp.FoldingRangeKind.Comment if one.kind == "comment" else None,
            )
            for one in folds(text)
        ]

    @made.feature(lsp.TEXT_DOCUMENT_FORMATTING)
    def tidied(server: Server, params: lsp.DocumentFormattingParams) -> list[lsp.TextEdit]:
        path = path_of(params.text_document.uri)
        text, new = server.desk.text(path), formatted(server.desk, path)
        end = lsp.Position(text.count("\n") + 1, 0)
        return [] if new == text else [lsp.TextEdit(lsp.Range(lsp.Position(0, 0), end), new)]

    @made.feature(lsp.TEXT_DOCUMENT_INLAY_HINT)
    def beside(server: Server, params: lsp.InlayHintParams) -> list[lsp.InlayHint]:
        plan = server.desk.plan(path_of(params.text_document.uri))
        first, last = params.range.start.line + 1, params.range.end.line + 1
        return [
            lsp.InlayHint(position(plan.text, one.line, one.column), one.text, padding_left=True)
            for one in besides(plan, first, last)
        ]

    legend = lsp.SemanticTokensLegend(list(colouring.KINDS), [])

    @made.feature(lsp.TEXT_DOCUMENT_SEMANTIC_TOKENS_FULL, legend)
    def tokens(server: Server, params: lsp.SemanticTokensParams) -> lsp.SemanticTokens:
        text = server.desk.text(path_of(params.text_document.uri))
        data: list[int] = []
        line, start = 0, 0
        for one in colouring.coloured(text):
            where = span(text, one.line, one.column, one.to)
            at = where.start
            start = start if at.line == line else 0
            length = where.end.character - at.character
            data += [at.line - line, at.character - start, length]
            data += [colouring.KINDS.index(one.kind), 0]
            line, start = at.line, at.character
        return lsp.SemanticTokens(data)


def _symbol(text: str, one: OutlineEntry) -> lsp.DocumentSymbol:
    end = len(line_of(text, one.last)) + 1
    return lsp.DocumentSymbol(
        name=one.name or "-",
        kind=_HEADINGS[one.kind],
        range=lsp.Range(position(text, one.line, 1), position(text, one.last, end)),
        selection_range=span(text, one.line, one.column, one.to),
        children=[_symbol(text, each) for each in one.inside],
    )
