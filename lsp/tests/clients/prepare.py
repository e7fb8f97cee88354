"""Makes the folder of the story, and says whether the house is as it must be at its end.

    prepare.py spoil HOUSE FOLDER     a copy of HOUSE with the faults of story.json
    prepare.py judge HOUSE FOLDER     FOLDER must be HOUSE with the new name, and nothing else
"""

import json
import pathlib
import re
import shutil
import sys

STORY = json.loads(pathlib.Path(__file__).with_name("story.json").read_text())


def spoil(house: pathlib.Path, folder: pathlib.Path) -> None:
    shutil.copytree(house, folder, ignore=shutil.ignore_patterns("out"))
    for fault in STORY["spoil"]:
        path = folder / fault["file"]
        text = path.read_text()
        assert text.count(fault["good"] + "\n") == 1, fault
        path.write_text(text.replace(fault["good"] + "\n", fault["bad"] + "\n"))


def judge(house: pathlib.Path, folder: pathlib.Path) -> None:
    old, new = STORY["rename"]["word"], STORY["rename"]["to"]
    renamed = 0
    for path in sorted(house.rglob("*.wythe")):
        found = (folder / path.relative_to(house)).read_text()
        wanted = re.sub(rf"\b{old}\b", new, path.read_text())
        renamed += wanted.count(new)
        assert found == wanted, f"{path.name} is not as it must be:\n{found}"
    assert renamed >= 3, renamed
    print(f"the house is whole again; {renamed} places have the new name")


{"spoil": spoil, "judge": judge}[sys.argv[1]](*map(pathlib.Path, sys.argv[2:]))
