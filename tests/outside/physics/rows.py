"""Writes a block of outside checks of physics: the form that `mod.rs` beside it tells."""

import json
import pathlib


def value(thing):
    """One value of TOML on one line; floats to twelve figures, so that every machine writes the same."""
    if isinstance(thing, bool):
        return "true" if thing else "false"
    if isinstance(thing, str):
        return json.dumps(thing, ensure_ascii=False)
    if isinstance(thing, dict):
        return "{ " + ", ".join(f"{key} = {value(inner)}" for key, inner in thing.items()) + " }"
    if isinstance(thing, (list, tuple)):
        return "[" + ", ".join(value(inner) for inner in thing) + "]"
    if isinstance(thing, int):
        return str(thing)
    return repr(float(f"{float(thing):.12g}"))


def write(script, block, cases):
    """Writes the block beside its script, under the same name. `cases`: dicts in the order of their keys."""
    lines = [f"# Made by {pathlib.Path(script).name}.", f"block = {value(block)}"]
    for case in cases:
        lines += ["", "[[case]]"]
        lines += [f"{key} = {value(thing)}" for key, thing in case.items()]
    pathlib.Path(script).with_suffix(".toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
