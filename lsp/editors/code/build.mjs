// Puts the extension together in dist/: one script that needs nothing else, and the grammar made from the schema.
import { build } from "esbuild";
import { copyFile, mkdir, readFile, readdir, rm, writeFile } from "node:fs/promises";

await rm("dist", { recursive: true, force: true });
await mkdir("dist");
const { metafile } = await build({
    entryPoints: ["src/extension.js"],
    outfile: "dist/extension.js",
    bundle: true,
    platform: "node",
    format: "cjs",
    target: "node18",
    external: ["vscode"],
    minify: true,
    legalComments: "none",
    logLevel: "warning",
    metafile: true,
});

// The packages in the bundle ask that their licences go with them.
const folders = Object.keys(metafile.inputs).map((file) => /^(?:.*\/)?node_modules\/(?:@[^/]+\/)?[^/]+/.exec(file)?.[0]);
const notices = [];
for (const folder of [...new Set(folders)].filter(Boolean).sort()) {
    const { name, version, license } = JSON.parse(await readFile(`${folder}/package.json`, "utf8"));
    const file = (await readdir(folder)).find((one) => /^licen[cs]e/i.test(one));
    notices.push(`${name} ${version} (${license})\n\n${file ? await readFile(`${folder}/${file}`, "utf8") : ""}`);
}
await writeFile("dist/licences.txt", notices.join("\n----\n\n"));
await copyFile("../../../grammar/wythe.tmLanguage.json", "dist/wythe.tmLanguage.json");
