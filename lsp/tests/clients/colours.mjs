// The colour grammar in the engine that editors run it in: every keyword, number, text and comment of all our texts has its
// colour. `node colours.mjs FOLDER...` with vscode-textmate and vscode-oniguruma beside it, or in NODE_PATH.
import { createRequire } from "node:module";
import { readFile, readdir } from "node:fs/promises";
import path from "node:path";

const require = createRequire(path.join(process.env.MODULES || process.cwd(), "modules.cjs"));
const textmate = require("vscode-textmate");
const oniguruma = require("vscode-oniguruma");

const grammarPath = new URL("../../../grammar/wythe.tmLanguage.json", import.meta.url);
await oniguruma.loadWASM((await readFile(require.resolve("vscode-oniguruma/release/onig.wasm"))).buffer);
const registry = new textmate.Registry({
    onigLib: Promise.resolve({
        createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
        createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => textmate.parseRawGrammar(await readFile(grammarPath, "utf8"), "wythe.tmLanguage.json"),
});
const grammar = await registry.loadGrammar("source.wythe");

const counted = {};
const wrong = [];

/** Cuts a line as its reader does, without knowing any keyword: depth of brackets is carried from line to line. */
function* pieces(line, depth) {
    const cut = /\/\/.*$|"(?:[^"\\]|\\.)*"|-?(?<![\p{L}\p{N}_])(?<![\p{L}\p{N}_]\.)\d+(?:-\d+\/\d+(?![-\d])|[.\/]\d+)?|[\p{L}_][\p{L}\p{N}_]*|[(),{}]|\S/gu;
    let starts = true;
    for (const found of line.matchAll(cut)) {
        const [text] = found;
        const at = found.index;
        if (text.startsWith("///") && !text.startsWith("////")) yield { at, text, kind: "comment.line.documentation" };
        else if (text.startsWith("//")) yield { at, text, kind: "comment" };
        else if (text.startsWith('"')) yield { at, text, kind: "string.quoted" };
        else if (/^-?\d/.test(text)) {
            yield { at, text, kind: "constant.numeric" };
            const unit = /^(?:%|[\p{L}])/u.exec(line.slice(at + text.length));
            if (unit) yield { at: at + text.length, text: unit[0], kind: "keyword.other.unit" };
        }
        else if (/^[\p{L}_]/u.test(text) && starts && depth.now === 0) {
            yield { at, text, kind: at === 0 ? "keyword.control.declaration" : "keyword.other.clause" };
        }
        if (text === "(") depth.now++;
        if (text === ")") depth.now--;
        starts = text === "," || (starts && text === "{");
    }
}

async function colour(file) {
    let stack = textmate.INITIAL;
    const depth = { now: 0 };
    for (const [number, line] of (await readFile(file, "utf8")).split("\n").entries()) {
        const { tokens, ruleStack } = grammar.tokenizeLine(line, stack);
        stack = ruleStack;
        for (const { at, text, kind } of pieces(line, depth)) {
            const token = tokens.find((one) => one.startIndex <= at && at < one.endIndex);
            const scopes = token ? token.scopes.join(" ") : "";
            counted[kind] = (counted[kind] || 0) + 1;
            if (!scopes.includes(kind)) wrong.push(`${file}:${number + 1}: \`${text}\` is ${scopes}, not ${kind}`);
        }
    }
}

async function* texts(folder) {
    for (const entry of await readdir(folder, { withFileTypes: true })) {
        const inner = path.join(folder, entry.name);
        if (entry.isDirectory()) yield* texts(inner);
        else if (entry.name.endsWith(".wythe")) yield inner;
    }
}

for (const folder of process.argv.slice(2)) for await (const file of texts(folder)) await colour(file);
console.log(counted);
if (wrong.length > 0 || Object.values(counted).length < 7) {
    console.error(wrong.slice(0, 20).join("\n"));
    console.error(`${wrong.length} pieces have the wrong colour`);
    process.exit(1);
}
