#!/usr/bin/env python3
"""Kept inputs of `quantity`: one file of texts, a section a dimension, for a folder of files, an input each, and back.

    kept.py unpack TEXTS FOLDER
    kept.py pack FOLDER TEXTS
"""

import hashlib
import json
import pathlib
import re
import sys

SOURCE = pathlib.Path(__file__).parent / "../crates/quantity/src/dimension.rs"
ALL = re.search(r"pub const ALL: .*? = \[(.*?)\];", SOURCE.read_text(), re.S)[1]
DIMENSIONS = re.findall(r"Self::(\w+)", ALL)


def unpack(texts, folder):
    folder.mkdir(parents=True, exist_ok=True)
    pick = 0
    for line in texts.read_text().splitlines():
        if line.startswith("["):
            pick = DIMENSIONS.index(line.strip("[]"))
        elif line.startswith('"'):
            data = bytes([pick]) + json.loads(line).encode()
            (folder / hashlib.sha1(data).hexdigest()).write_bytes(data)


def pack(folder, texts):
    kept = {name: [] for name in DIMENSIONS}
    for file in folder.iterdir():
        pick, text = file.read_bytes()[0], file.read_bytes()[1:].decode()
        kept[DIMENSIONS[pick % len(DIMENSIONS)]].append(json.dumps(text))
    sections = (f"[{name}]\n" + "".join(f"{text}\n" for text in sorted(found)) for name, found in kept.items())
    texts.write_text("\n".join(sections))


if __name__ == "__main__":
    work, one, other = sys.argv[1:]
    {"unpack": unpack, "pack": pack}[work](pathlib.Path(one), pathlib.Path(other))
