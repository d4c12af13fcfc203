// Usage: node textmate.js GRAMMAR FILE. Prints a JSON array with one element for each
// line: the tokens as [start, end, scopes], in UTF-16 units.
const fs = require("fs");
const path = require("path");
const textmate = require("vscode-textmate");
const oniguruma = require("vscode-oniguruma");

async function main() {
  const home = path.dirname(require.resolve("vscode-oniguruma"));
  await oniguruma.loadWASM(fs.readFileSync(path.join(home, "onig.wasm")).buffer);
  const registry = new textmate.Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(fs.readFileSync(process.argv[2], "utf8"), "grammar.json"),
  });
  const grammar = await registry.loadGrammar("source.glassbrief");
  let state = textmate.INITIAL;
  const lines = fs.readFileSync(process.argv[3], "utf8").split("\n").map((line) => {
    const result = grammar.tokenizeLine(line, state);
    state = result.ruleStack;
    return result.tokens.map((token) => [token.startIndex, token.endIndex, token.scopes.join(" ")]);
  });
  console.log(JSON.stringify(lines));
}
main();
