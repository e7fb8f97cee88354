// The panel with the drawing of the face, opening or detail under the cursor; drawn anew when hands rest.
"use strict";

const crypto = require("node:crypto");
const vscode = require("vscode");
const { page } = require("./page");

/** How long the hands must rest, in milliseconds. */
const PAUSE = 250;

class Drawing {
    /** @param ask sends a request to the server; gives nothing while there is no server. */
    constructor(ask) {
        this.ask = ask;
        this.panel = undefined;
        this.timer = undefined;
        this.asked = 0;
        this.listening = [];
    }

    /** Opens the panel beside the text, or brings it forward. */
    show() {
        if (this.panel) {
            this.panel.reveal(undefined, true);
        } else {
            this.open();
        }
        return this.draw();
    }

    open() {
        this.panel = vscode.window.createWebviewPanel(
            "wythe.drawing",
            "Drawing",
            { viewColumn: vscode.ViewColumn.Beside, preserveFocus: true },
            { enableScripts: true, localResourceRoots: [] },
        );
        const soon = (document) => {
            if (document && document.languageId === "wythe") this.drawSoon();
        };
        this.listening = [
            vscode.workspace.onDidChangeTextDocument((change) => soon(change.document)),
            vscode.window.onDidChangeTextEditorSelection((change) => soon(change.textEditor.document)),
            vscode.window.onDidChangeActiveTextEditor((editor) => soon(editor && editor.document)),
        ];
        this.panel.onDidDispose(() => this.close());
    }

    close() {
        clearTimeout(this.timer);
        this.listening.forEach((one) => one.dispose());
        this.listening = [];
        this.panel = undefined;
    }

    /** Shows what a command of the server answered, until the cursor moves. */
    showAnswer(answer) {
        if (!answer) return;
        ++this.asked;
        if (!this.panel) this.open();
        this.put(answer);
    }

    drawSoon() {
        clearTimeout(this.timer);
        this.timer = setTimeout(() => this.draw(), PAUSE);
    }

    /** Asks for the drawing; an answer that a later question has overtaken is dropped. */
    async draw() {
        const editor = vscode.window.activeTextEditor;
        if (!this.panel || !editor || editor.document.languageId !== "wythe") return;
        const question = ++this.asked;
        const { line, character } = editor.selection.active;
        let answer;
        let problem = "";
        try {
            answer = await this.ask("wythe/drawing", {
                textDocument: { uri: editor.document.uri.toString() },
                position: { line, character },
            });
        } catch (refusal) {
            problem = refusal.message || String(refusal);
        }
        if (question !== this.asked || !this.panel) return;
        // What was drawn stays while the cursor stands where there is nothing to draw.
        if (problem) this.put({ note: problem });
        else if (answer && (answer.svg || !this.panel.webview.html)) this.put(answer);
    }

    put(answer) {
        this.panel.title = answer.title || "Drawing";
        this.panel.webview.html = page(answer, answer.svg ? crypto.randomBytes(16).toString("base64") : "");
    }

    dispose() {
        if (this.panel) this.panel.dispose();
    }
}

module.exports = { Drawing };
