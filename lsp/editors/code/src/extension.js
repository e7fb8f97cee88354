// Starts the server for wythe files and keeps one panel with the drawing of what is under the cursor.
"use strict";

const vscode = require("vscode");
const { LanguageClient, TransportKind } = require("vscode-languageclient/node");
const { Drawing } = require("./drawing");
const lenses = require("./lenses");

/** @type {LanguageClient | undefined} */
let client;
/** @type {Drawing | undefined} */
let drawing;

/** Called once, when the first wythe file is opened. */
async function activate(context) {
    drawing = new Drawing((method, params) => client && client.isRunning() ? client.sendRequest(method, params) : null);
    context.subscriptions.push(
        drawing,
        ...lenses.commands((place) => client.protocol2CodeConverter.asLocation(place)),
        vscode.workspace.registerTextDocumentContentProvider("wythe-std", { provideTextDocumentContent: libraryText }),
        vscode.commands.registerCommand("wythe.showDrawing", () => drawing.show()),
        vscode.commands.registerCommand("wythe.restartServer", restart),
        vscode.workspace.onDidChangeConfiguration((change) => {
            if (change.affectsConfiguration("wythe.server.path")) restart();
        }),
    );
    await start();
}

/** Called when the editor closes or the extension is switched off. */
async function deactivate() {
    const ending = client;
    client = undefined;
    if (ending) await ending.stop();
}

/** A text of the library, which no disk holds: a document that can be read only. */
async function libraryText(uri) {
    const answer = client && (await client.sendRequest("wythe/text", { uri: uri.toString() }));
    return answer ? answer.text : "";
}

async function restart() {
    await deactivate();
    await start();
}

async function start() {
    const command = vscode.workspace.getConfiguration("wythe").get("server.path") || "wythe-lsp";
    const run = { command, transport: TransportKind.stdio };
    const starting = new LanguageClient(
        "wythe",
        "Wythe",
        { run, debug: run },
        {
            documentSelector: ["file", "untitled", "wythe-std"].map((scheme) => ({ scheme, language: "wythe" })),
            initializationOptions: vscode.workspace.getConfiguration("wythe"),
            middleware: { executeCommand: lenses.asked(drawing) },
            synchronize: {
                configurationSection: "wythe",
                fileEvents: vscode.workspace.createFileSystemWatcher("**/*.wythe"),
            },
        },
    );
    client = starting;
    try {
        await starting.start();
    } catch (problem) {
        const answer = await vscode.window.showErrorMessage(
            `The Wythe server "${command}" did not start: ${problem.message || problem}`,
            "Set its path",
        );
        if (answer) await vscode.commands.executeCommand("workbench.action.openSettings", "wythe.server.path");
    }
}

module.exports = { activate, deactivate };
