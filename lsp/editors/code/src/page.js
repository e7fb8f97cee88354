// The page of the drawing panel: black on white as on paper, the drawing as an image so that nothing in it can run.
"use strict";

function escaped(text) {
    return String(text).replace(/[&<>"]/g, (sign) => `&#${sign.charCodeAt(0)};`);
}

/**
 * @param {{ title?: string, svg?: string, text?: string, note?: string }} answer what the server gave, or what to say instead
 * @param {string} nonce names the one script that may run
 */
function page(answer, nonce) {
    const policy = `default-src 'none'; img-src data:; style-src 'unsafe-inline'; script-src 'nonce-${nonce}'`;
    const head = `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${escaped(policy)}">
<style>
body { margin: 0; padding: 8px; background: #fff; color: #000; font: 14px sans-serif; }
h1 { margin: 0 0 8px; font-size: 14px; font-weight: 600; }
img { width: 100%; height: auto; cursor: zoom-in; }
img.large { width: 250%; cursor: zoom-out; }
pre { white-space: pre-wrap; }
</style></head><body>`;
    if (!answer.svg) return `${head}<p>${escaped(answer.note || "")}</p></body></html>`;
    const data = Buffer.from(answer.svg, "utf8").toString("base64");
    return `${head}<h1>${escaped(answer.title || "")}</h1>
<img alt="${escaped(answer.title || "drawing")}" src="data:image/svg+xml;base64,${data}">
${answer.text ? `<pre>${escaped(answer.text)}</pre>` : ""}
<script nonce="${nonce}">
// The size and place looked at are kept when the drawing is made anew.
const editor = acquireVsCodeApi();
const image = document.querySelector("img");
const kept = editor.getState() || {};
image.classList.toggle("large", Boolean(kept.large));
image.addEventListener("load", () => scrollTo(kept.x || 0, kept.y || 0));
const keep = () => editor.setState({ large: image.classList.contains("large"), x: scrollX, y: scrollY });
image.addEventListener("click", () => { image.classList.toggle("large"); keep(); });
addEventListener("scroll", keep);
</script></body></html>`;
}

module.exports = { page };
