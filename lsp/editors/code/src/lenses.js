// What the lines above faces, details and assemblies do when they are chosen.
"use strict";

const vscode = require("vscode");

/**
 * Commands that the server offers as well: the client brings them here before it asks the server.
 *
 * @param drawing the panel
 */
function asked(drawing) {
    const own = {
        "wythe.draw": async ([place]) => {
            if (place) await go(place);
            return drawing.show();
        },
        "wythe.trace": async (places, ask) => drawing.showAnswer(await ask("wythe.trace", places)),
    };
    return (command, places, ask) => own[command] ? own[command](places, ask) : ask(command, places);
}

/**
 * Commands that are the editor's alone.
 *
 * @param location gives a place of the protocol as one of the editor
 */
function commands(location) {
    return [
        vscode.commands.registerCommand("wythe.findings", async (place) => {
            if (place) await go(place);
            return vscode.commands.executeCommand("workbench.actions.view.problems");
        }),
        vscode.commands.registerCommand("wythe.uses", (uri, { line, character }, places) =>
            vscode.commands.executeCommand(
                "editor.action.showReferences",
                vscode.Uri.parse(uri),
                new vscode.Position(line, character),
                places.map(location),
            ),
        ),
    ];
}

/** Puts the cursor on the face a line stands above. */
async function go({ uri, position: { line, character } }) {
    const place = new vscode.Position(line, character);
    return vscode.window.showTextDocument(vscode.Uri.parse(uri), { selection: new vscode.Range(place, place) });
}

module.exports = { asked, commands };
