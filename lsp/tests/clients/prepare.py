"""Makes the folder of the story, and says whether the house is at its end as the steps told must leave it.

    prepare.py spoil HOUSE FOLDER     a copy of HOUSE with the faults of story.json
    prepare.py judge HOUSE FOLDER     FOLDER must be HOUSE with the new name and the faults mended, and nothing else
    prepare.py steps                  the steps of the story, in order; STEPS in the environment tells others
"""

import json
import os
import pathlib
import re
import shutil
import sys

STORY = json.loads(pathlib.Path(__file__).with_name("story.json").read_text())
STEPS = os.environ.get("STEPS", "").split() or STORY["steps"]


def spoilt(name: str, text: str, faults: list[dict]) -> str:
    """The text of a file with these faults in it."""
    for fault in faults:
        if fault["file"] == name:
            assert text.count(fault["good"] + "\n") == 1, fault
            text = text.replace(fault["good"] + "\n", fault["bad"] + "\n")
    return text


def spoil(house: pathlib.Path, folder: pathlib.Path) -> None:
    folder.mkdir()
    for path in house.glob("*.wythe"):
        (folder / path.name).write_text(spoilt(path.name, path.read_text(), STORY["spoil"]))


def judge(house: pathlib.Path, folder: pathlib.Path) -> None:
    left = [fault for fault in STORY["spoil"] if not set(fault["mended_by"]) & set(STEPS)]
    old, new = STORY["rename"]["word"], STORY["rename"]["to"]
    renamed = 0
    for path in sorted(house.glob("*.wythe")):
        found = (folder / path.name).read_text()
        wanted = spoilt(path.name, path.read_text(), left)
        if "rename" in STEPS:
            wanted = re.sub(rf"\b{old}\b", new, wanted)
            renamed += wanted.count(new)
        assert found == wanted, f"{path.name} is not as it must be:\n{found}"
    assert "rename" not in STEPS or renamed >= 3, renamed
    print(f"the house is as it must be: {len(left)} faults left, {renamed} places with the new name")


def steps() -> None:
    print(" ".join(STEPS))


{"spoil": spoil, "judge": judge, "steps": steps}[sys.argv[1]](*map(pathlib.Path, sys.argv[2:]))
