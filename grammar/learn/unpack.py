"""Makes what the next learning begins from out of the packed weights: the word vectors, and a net.

    python3 unpack.py SCORES.bin DATA.gz[,DATA1.gz] VECTORS.bin NET.pt

VECTORS.bin is written when it is not there; NET.pt is made for the kinds of cue, the features and
the words of DATA: what the packed net does not know starts at nought (a word at what an unknown
word has). Exported data need VECTORS.bin first: leave out DATA and NET for that.
"""

import json
import os
import sys
from collections import Counter
from types import SimpleNamespace

import numpy as np
import torch

# Said about twice, as every utterance is there in six states (Data.vocabulary).
OFTEN = 8
# Logit of what is said in one utterance of fifty.
RARE = -4.0
TURNED = ("sense.weight", "rel_bias.weight", "rel_value.weight")


def opened(file):
    raw = open(file, "rb").read()
    end = raw.index(b"\n")
    head = json.loads(raw[:end])
    at = end + 1
    state = {}
    for m in head["matrices"]:
        rows, cols = m["rows"], m["cols"]
        scale = np.frombuffer(raw, "<f4", rows, at)
        at += 4 * rows
        a = np.frombuffer(raw, np.int8, rows * cols, at).reshape(rows, cols).astype(np.float32) * scale[:, None]
        at += rows * cols
        a = a.T.copy() if m["name"] in TURNED else a
        state[m["name"]] = torch.as_tensor(a.copy())
    return head, state, raw[at:]


def main(scores, *rest):
    head, state, table = opened(scores)
    vec_file = rest[-2] if len(rest) > 1 else rest[0]
    if not os.path.exists(vec_file):
        with open(vec_file, "wb") as f:
            f.write(json.dumps(head["vectors"]).encode() + b"\n")
            f.write(table)
        print(len(head["vectors"]["words"].split(" ")), "words")
    if len(rest) < 3:
        return
    from data import opened as exported
    from model import make

    count, heads = Counter(), []
    for file in rest[0].split(","):
        h, z = exported(file)
        heads.append((h, {name: (len(a), z["force"].size // 2) for name, a in z.items()}, {k: z[k].size for k in ("conditionIs", "aspectIs", "placeIs")}))
        ends = np.concatenate([[0], z["tokenEnd"]])
        tune = set(h["tune"])
        for u, m in enumerate(h["meta"]):
            if m["writer"] not in tune:
                count.update(h["strings"][w] for w in z["word"][ends[u] : ends[u + 1]])
    h, wide, n = heads[0]
    empty = lambda name, rows: torch.zeros(1, wide[name][0] // max(1, rows))
    d = SimpleNamespace(
        head=h,
        feature=empty("feature", wide["feature"][1]),
        crow=empty("conditionRow", n["conditionIs"]),
        arow=empty("aspectRow", n["aspectIs"]),
        prow=empty("placeRow", n["placeIs"] // 3),
        vec=torch.zeros(1, head["vectors"]["dims"]),
    )
    special = ["<pad>", "<unknown>", "<name>"]
    # What has a row keeps it, also where only part of the walks is learned from.
    kept = {w for w, c in count.items() if c >= OFTEN} | set(head["words"].split(" "))
    vocab = special + sorted(kept - set(special))
    net = make(d, vocab, "cpu")
    fresh = net.state_dict()
    row = {w: i for i, w in enumerate(head["words"].split(" "))}
    new = 0
    for name, a in fresh.items():
        old = state[name].reshape(-1) if a.ndim == 1 else state[name]
        if name == "word.weight":
            new = sum(w not in row for w in vocab)
            a.copy_(old[[row.get(w, row["<unknown>"]) for w in vocab]])
        elif name == "sense.weight":
            a.zero_()
            for i, sense in enumerate(d.head["senses"]):
                if sense in head["senses"]:
                    a[:, i] = old[:, head["senses"].index(sense)]
        elif name.startswith("order.") and len(old) < len(a):
            # Kinds of order that were not learned yet: held for none until they are.
            a.zero_()
            a[: len(old)] = old
            if a.ndim == 1:
                a[len(old) :] = RARE
        elif a.shape == old.shape:
            a.copy_(old)
        else:
            raise SystemExit(f"{name} is {tuple(old.shape)} and {tuple(a.shape)} is wanted: say here where its columns went.")
    torch.save({"state": {k: v.half() for k, v in fresh.items()}, "vocab": vocab}, rest[-1])
    print(len(vocab), "words,", new, "of them new")


main(*sys.argv[1:])
