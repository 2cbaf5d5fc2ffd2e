"""The language server end to end: a client of the protocol talks to it over standard input."""

from __future__ import annotations

import asyncio
import sys
from collections.abc import AsyncGenerator
from pathlib import Path

import pytest
import pytest_lsp
from lsprotocol import types as lsp
from pygls.exceptions import JsonRpcException
from pytest_lsp import ClientServerConfig, LanguageClient

# Loaded here alone: it takes longer to import than most files of tests do to run.
pytest_plugins = ["pytest_lsp"]

ROOT = Path(__file__).parents[2]
TANSY = ROOT / "examples" / "tansy-gold-and-moss.dye"


@pytest_lsp.fixture(  # type: ignore[untyped-decorator]
    config=ClientServerConfig(
        server_command=[sys.executable, "-m", "procedure", "language-server"],
        server_env={"PYTHONPATH": str(ROOT)},
    ),
)
async def client(lsp_client: LanguageClient) -> AsyncGenerator[None, None]:
    params = lsp.InitializeParams(capabilities=pytest_lsp.client_capabilities("neovim"))
    await lsp_client.initialize_session(params)
    yield
    await lsp_client.shutdown_session()


async def opened(client: LanguageClient, text: str, uri: str) -> None:
    item = lsp.TextDocumentItem(uri, "dye", 1, text)
    client.text_document_did_open(lsp.DidOpenTextDocumentParams(item))
    await client.wait_for_notification(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)


@pytest.mark.asyncio
async def test_findings_words_hover_and_cures(client: LanguageClient) -> None:
    uri = TANSY.as_uri()
    text = TANSY.read_text(encoding="utf-8")
    await opened(client, text, uri)
    assert not [d for d in client.diagnostics[uri] if d.severity == lsp.DiagnosticSeverity.Error]
    faulty = text.replace("  mordant yarn", "  mordnt yarn", 1)
    line = text[: text.index("  mordant yarn")].count("\n")
    change = lsp.TextDocumentContentChangeWholeDocument(faulty)
    client.text_document_did_change(
        lsp.DidChangeTextDocumentParams(lsp.VersionedTextDocumentIdentifier(2, uri), [change])
    )
    await client.wait_for_notification(lsp.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)
    assert [d for d in client.diagnostics[uri] if d.range.start.line == line and d.severity == 1]
    document = lsp.TextDocumentIdentifier(uri)
    here = lsp.Range(lsp.Position(line, 0), lsp.Position(line, 5))
    actions = await client.text_document_code_action_async(
        lsp.CodeActionParams(document, here, lsp.CodeActionContext([]))
    )
    assert actions and "mordant" in actions[0].title
    offered = await client.text_document_completion_async(
        lsp.CompletionParams(document, lsp.Position(line, 5))
    )
    assert isinstance(offered, lsp.CompletionList)
    assert "mordant" in [item.label for item in offered.items]
    told = await client.text_document_hover_async(
        lsp.HoverParams(document, lsp.Position(line - 1, 4))
    )
    assert told is not None


@pytest.mark.asyncio
async def test_the_whole_document(client: LanguageClient) -> None:
    # A letter beyond the first plane counts twice in the protocol's columns.
    uri = (ROOT / "examples" / "unsaved.dye").as_uri()
    text = (
        'procedure "𝄞 one"\nfibre\n  yarn: wool yarn, 100 g\nsteps\n  do "𝄞" note "x"\n  dry yarn\n'
    )
    await opened(client, text, uri)
    document = lsp.TextDocumentIdentifier(uri)
    symbols = await client.text_document_document_symbol_async(lsp.DocumentSymbolParams(document))
    assert symbols and [one.name for one in symbols][1:] == ["fibre", "steps"]
    found = await client.text_document_definition_async(
        lsp.DefinitionParams(document, lsp.Position(5, 7))
    )
    assert isinstance(found, list) and found[0].range.start == lsp.Position(2, 2)
    renamed = await client.text_document_rename_async(
        lsp.RenameParams(document, lsp.Position(5, 7), "hank")
    )
    assert renamed is not None and renamed.changes is not None
    assert len(renamed.changes[uri]) == 2
    place = await client.text_document_prepare_rename_async(
        lsp.PrepareRenameParams(document, lsp.Position(5, 7))
    )
    assert place == lsp.Range(lsp.Position(5, 6), lsp.Position(5, 10))
    with pytest.raises(JsonRpcException, match="letters, digits and hyphens"):
        await client.text_document_rename_async(
            lsp.RenameParams(document, lsp.Position(5, 7), "two words")
        )
    nowhere = lsp.TextDocumentIdentifier((ROOT / "examples" / "none-such.dye").as_uri())
    with pytest.raises(JsonRpcException, match=r"none-such\.dye: no such file"):
        await client.text_document_hover_async(lsp.HoverParams(nowhere, lsp.Position(0, 0)))
    tokens = await client.text_document_semantic_tokens_full_async(
        lsp.SemanticTokensParams(document)
    )
    assert tokens is not None and len(tokens.data) % 5 == 0
    assert tokens.data[5:10][2] == len('"𝄞 one"') + 1
    hints = await client.text_document_inlay_hint_async(
        lsp.InlayHintParams(document, lsp.Range(lsp.Position(0, 0), lsp.Position(9, 0)))
    )
    assert not hints
    folded = await client.text_document_folding_range_async(lsp.FoldingRangeParams(document))
    assert folded
    tidied = await client.text_document_formatting_async(
        lsp.DocumentFormattingParams(document, lsp.FormattingOptions(2, True))
    )
    assert tidied is not None
    (edit,) = tidied
    assert edit.new_text.startswith('procedure "𝄞 one"\n\nfibre\n  yarn: wool yarn, 100 g\n\nsteps')


@pytest.mark.asyncio
async def test_over_tcp() -> None:
    import socket

    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "procedure", "language-server", "--tcp", str(port)]
    process = await asyncio.create_subprocess_exec(*command, cwd=ROOT)
    try:
        for _ in range(3000):
            try:
                reader, writer = await asyncio.open_connection("127.0.0.1", port)
                break
            except OSError:
                await asyncio.sleep(0.1)
        body = b'{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}'
        writer.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        head = await asyncio.wait_for(reader.readuntil(b"\r\n\r\n"), 600)
        size = int(head.split(b"Content-Length:")[1].split()[0])
        assert b"renameProvider" in await reader.readexactly(size)
        writer.close()
    finally:
        process.terminate()
        await process.wait()
