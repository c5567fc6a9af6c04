"""Packs a trained net into the file that the reader reads (grammar/scores/weights.ts).

    python3 pack.py NET.pt DATA.gz VECTORS.bin CORPUS_HASH OUT [TEMPERATURES.json]
"""

import gzip
import hashlib
import json
import os
import struct
import sys

import numpy as np
import torch


def main(net_file, data_file, vec_file, corpus, out, heat=None):
    saved = torch.load(net_file, map_location="cpu")
    raw = gzip.open(data_file).read(64 << 20)
    (n,) = struct.unpack("<I", raw[:4])
    head = json.loads(raw[4 : 4 + n])
    vec = open(vec_file, "rb").read()
    end = vec.index(b"\n")
    words = json.loads(vec[:end])
    shapes, blobs = [], []
    for name, t in saved["state"].items():
        a = t.float().numpy()
        # A row of one number each keeps it exactly: so the biases.
        a = a.reshape(-1, 1) if a.ndim == 1 else a
        # The reader adds up rows of these: one for each kind of cue and each distance.
        a = a.T.copy() if name in ("sense.weight", "rel_bias.weight", "rel_value.weight") else a
        scale = np.maximum(np.abs(a).max(1), 1e-9) / 127
        whole = np.clip(np.round(a / scale[:, None]), -127, 127).astype(np.int8)
        shapes.append({"name": name, "rows": a.shape[0], "cols": a.shape[1]})
        blobs += [scale.astype("<f4").tobytes(), whole.tobytes()]
    blobs.append(vec[end + 1 :])
    digest = hashlib.sha256(b"".join(blobs)).hexdigest()[:12]
    line = {
        "layout": 1,
        "version": digest,
        "corpus": corpus,
        "words": " ".join(saved["vocab"]),
        "vectors": words,
        "senses": head["senses"],
        "labels": head["labels"],
        "temperatures": json.load(open(heat)) if heat else {},
        "matrices": shapes,
    }
    with open(out, "wb") as f:
        f.write(json.dumps(line).encode() + b"\n")
        for b in blobs:
            f.write(b)
    print(out, digest, os.path.getsize(out) // 1024, "KB")


main(*sys.argv[1:])
