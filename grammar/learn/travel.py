"""Writes files of tests/learn/export.ts anew, small enough to travel: a third of the size.

    python3 grammar/learn/travel.py IN.gz OUT.xz

Arrays by columns instead of rows, what is only yes or no as bits, ends as lengths, and
without the keys of the candidates, which only stored.py needs. `opened` in data.py reads both.
"""

import gzip
import json
import lzma
import struct
import sys

import numpy as np

# Numbers in a row of each array; 1 where it is not named.
WIDE = {"token": 6, "back": 3, "out": 9, "force": 2, "mark": 5, "placeIs": 3, "conditionSpan": 2}
YES = 200


def main(source, target):
    raw = gzip.open(source).read()
    (n,) = struct.unpack("<I", raw[:4])
    head = json.loads(raw[4 : 4 + n])
    at = 4 + n
    z = {}
    for name, (kind, size) in head["shape"].items():
        z[name] = np.frombuffer(raw, "<i4" if kind == "i4" else np.uint8, size // (4 if kind == "i4" else 1), at)
        at += size
    rows = {"feature": len(z["force"]) // 2, "conditionRow": len(z["conditionIs"]), "aspectRow": len(z["aspectIs"]), "placeRow": len(z["placeIs"]) // 3}
    small, parts = {}, []
    for name, a in z.items():
        if name in rows:
            a = a.reshape(rows[name], -1)
            bits = [k for k in range(a.shape[1]) if np.isin(a[:, k], (0, YES)).all()]
            rest = [k for k in range(a.shape[1]) if k not in bits]
            small[name] = {"rows": rows[name], "bits": bits, "rest": rest}
            parts += [np.packbits(a[:, bits] > 0, axis=1).T.tobytes(), a[:, rest].T.tobytes()]
            continue
        a = np.diff(a, prepend=0).astype(a.dtype) if name.endswith("End") else a
        wide = WIDE.get(name, 1)
        cells = np.ascontiguousarray(a).view(np.uint8).reshape(len(a) // wide, wide * a.itemsize)
        small[name] = {"rows": len(cells)}
        parts.append(cells.T.tobytes())
    for m in head["meta"]:
        del m["keys"], m["form"]
    head["small"] = small
    line = json.dumps(head, separators=(",", ":")).encode()
    with lzma.open(target, "wb", preset=5) as f:
        f.write(struct.pack("<I", len(line)) + line)
        for p in parts:
            f.write(p)


if __name__ == "__main__":
    main(*sys.argv[1:3])
