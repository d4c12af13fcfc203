// A session of a client library with "glassbrief serve-editor", over JSON-RPC. Run with:
// node session.js FOLDER; GLASSBRIEF names the program, and the standard input is JSON with
//   faulty: texts with faults, each with the name that it is opened by,
//   house:  the files of the folder by name,
//   renames: what is renamed, each with file, position and the new name.
// Prints what the client got as JSON.
const { spawn } = require('child_process');
const fs = require('fs');
const path = require('path');
const { pathToFileURL } = require('url');
const lsp = require('vscode-languageserver-protocol/node');

const folder = process.argv[2];
const uriOf = (name) => pathToFileURL(path.join(folder, name)).toString();
const server = spawn(process.env.GLASSBRIEF, ['serve-editor'], { stdio: ['pipe', 'pipe', 'inherit'] });
const exited = new Promise((resolve) => server.on('exit', resolve));
const connection = lsp.createProtocolConnection(
  new lsp.StreamMessageReader(server.stdout), new lsp.StreamMessageWriter(server.stdin), console);

const findings = new Map(); // by URI and version
const waiting = new Map();
connection.onNotification(lsp.PublishDiagnosticsNotification.type, (p) => {
  const key = p.uri + '#' + p.version;
  findings.set(key, p.diagnostics);
  if (waiting.has(key)) waiting.get(key)(p.diagnostics);
});
connection.onRequest(lsp.CodeLensRefreshRequest.type, () => undefined);
connection.onRequest(lsp.InlayHintRefreshRequest.type, () => undefined);
function found(uri, version) {
  const key = uri + '#' + version;
  if (findings.has(key)) return Promise.resolve(findings.get(key));
  return new Promise((resolve) => waiting.set(key, resolve));
}

// A document as a client keeps it: each change is sent by its range.
class Document {
  constructor(name, text) {
    this.uri = uriOf(name);
    this.text = text;
    this.version = 1;
  }
  async open() {
    await connection.sendNotification(lsp.DidOpenTextDocumentNotification.type, {
      textDocument: { uri: this.uri, languageId: 'glassbrief', version: 1, text: this.text },
    });
    return found(this.uri, 1);
  }
  offset(at) {
    const lines = this.text.split('\n');
    return lines.slice(0, at.line).reduce((sum, line) => sum + line.length + 1, 0) + at.character;
  }
  async apply(edits) {
    // From the end on, so that no range moves another.
    const sorted = [...edits].sort((a, b) => this.offset(b.range.start) - this.offset(a.range.start));
    for (const e of sorted) {
      this.text = this.text.slice(0, this.offset(e.range.start)) + e.newText + this.text.slice(this.offset(e.range.end));
    }
    this.version++;
    await connection.sendNotification(lsp.DidChangeTextDocumentNotification.type, {
      textDocument: { uri: this.uri, version: this.version },
      contentChanges: sorted.map((e) => ({ range: e.range, text: e.newText })),
    });
    return found(this.uri, this.version);
  }
  close() {
    return connection.sendNotification(lsp.DidCloseTextDocumentNotification.type, { textDocument: { uri: this.uri } });
  }
}

const key = (d) => d.code + ': ' + d.message.split('\n')[0];
function without(a, b) {
  const count = new Map();
  for (const d of b) count.set(key(d), (count.get(key(d)) || 0) + 1);
  return a.filter((d) => {
    count.set(key(d), (count.get(key(d)) || 0) - 1);
    return count.get(key(d)) < 0;
  }).map(key);
}

// Each correction of each faulty text, by itself, in a document of its own.
async function fixes(faulty) {
  const done = [];
  let opened = 0;
  for (const { name, text } of faulty) {
    const first = new Document(opened++ + name, text);
    const before = await first.open();
    const actions = await connection.sendRequest(lsp.CodeActionRequest.type, {
      textDocument: { uri: first.uri },
      range: { start: { line: 0, character: 0 }, end: { line: 1e6, character: 0 } },
      context: { diagnostics: before, only: ['quickfix'] },
    });
    await first.close();
    for (const action of actions) {
      const document = new Document(opened++ + name, text);
      await document.open();
      const after = await document.apply(action.edit.changes[first.uri]);
      await document.close();
      done.push({
        name, title: action.title, code: action.diagnostics[0].code,
        added: without(after, before), gone: without(before, after).includes(key(action.diagnostics[0])),
      });
    }
  }
  return done;
}

// Each rename and its way back, with the margin before, between and behind.
async function renames(house, all) {
  const documents = new Map();
  for (const [name, text] of Object.entries(house)) {
    const document = new Document(name, text);
    documents.set(document.uri, document);
    await document.open();
  }
  const margin = async () => {
    const lines = [];
    for (const document of documents.values()) {
      const lenses = await connection.sendRequest(lsp.CodeLensRequest.type, { textDocument: { uri: document.uri } });
      lines.push(...lenses.map((lens) => lens.command.title));
    }
    return lines;
  };
  const done = [];
  for (const { file, position, name, was } of all) {
    const before = await margin();
    const rename = async (newName) => {
      const edit = await connection.sendRequest(lsp.RenameRequest.type, { textDocument: { uri: uriOf(file) }, position, newName });
      for (const [uri, edits] of Object.entries(edit.changes)) await documents.get(uri).apply(edits);
      return Object.keys(edit.changes).length;
    };
    const files = await rename(name);
    const between = await margin();
    await rename(was);
    const same = Object.entries(house).every(([of, text]) => documents.get(uriOf(of)).text === text);
    done.push({ was, files, same, before, between, behind: await margin() });
  }
  return done;
}

async function main() {
  const input = JSON.parse(fs.readFileSync(0, 'utf8'));
  const got = {};
  connection.listen();
  const { capabilities } = await connection.sendRequest(lsp.InitializeRequest.type, {
    processId: process.pid, rootUri: pathToFileURL(folder).toString(),
    capabilities: { workspace: { codeLens: { refreshSupport: true }, inlayHint: { refreshSupport: true } } },
  });
  await connection.sendNotification(lsp.InitializedNotification.type, {});
  got.capabilities = Object.keys(capabilities).sort();
  got.fixes = await fixes(input.faulty);
  got.renames = await renames(input.house, input.renames);

  // What is asked and taken back is answered as such, or was answered already.
  const source = new lsp.CancellationTokenSource();
  const asked = connection.sendRequest(lsp.DocumentSymbolRequest.type, { textDocument: { uri: uriOf('day.scenario') } }, source.token);
  source.cancel();
  got.cancelled = await asked.then(() => 'answered', (error) => (error.code === lsp.LSPErrorCodes.RequestCancelled ? 'cancelled' : String(error)));

  await connection.sendRequest(lsp.ShutdownRequest.type);
  await connection.sendNotification(lsp.ExitNotification.type);
  got.exit = await exited;
  process.stdout.write(JSON.stringify(got));
}

main().catch((error) => {
  process.stdout.write(JSON.stringify({ fault: String((error && error.stack) || error) }));
  process.exit(0);
});
