"""Learns how bad a fault is said to be, over the states of the words of a packed net that stays as it is.

    python3 rate.py SCORES.bin NET.pt DATA.gz[,…] VECTORS.bin CORPUS_HASH OUT.bin [MOST]

NET.pt is what unpack.py made of SCORES.bin for DATA, VECTORS.bin the vectors that OUT.bin gets. MOST
utterances of the data at most, all of `follows` first. The net itself learned whole walks from more
than these data; learned on from them alone it lost faults there, so it is not touched.
"""

import hashlib
import json
import sys

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

from data import Data
from model import kinds, make

RATINGS = 4
SEEN = 128
HIDDEN = 64
STEPS = 3000
SIZE = 512
WINDOW = 8192
RATE = 3e-3


class Rated(nn.Module):
    """What stands out anywhere among the words, and what of it says how bad."""

    def __init__(self, wide):
        super().__init__()
        self.rate_seen = nn.Linear(wide, SEEN)
        self.rate_hidden = nn.Linear(SEEN, HIDDEN)
        self.rate_out = nn.Linear(HIDDEN, RATINGS)
        self.drop = nn.Dropout(0.3)

    def forward(self, states, there):
        """[B,T,wide] and [B,T] to [B,4] logits."""
        x = torch.relu(self.rate_seen(self.drop(states))).masked_fill(~there[..., None], 0)
        return self.rate_out(self.drop(torch.relu(self.rate_hidden(self.drop(x.max(1).values)))))


def encoded(net, d, us):
    """States of the words of these utterances, each by itself: [T,wide] halves."""
    out = [None] * len(us)
    ends = d.tok_end
    order = sorted(range(len(us)), key=lambda i: ends[us[i] + 1] - ends[us[i]])
    with torch.no_grad():
        for at in range(0, len(order), 512):
            some = order[at : at + 512]
            ln = np.array([ends[us[i] + 1] - ends[us[i]] for i in some])
            first = np.array([ends[us[i]] for i in some])
            idx = torch.as_tensor(np.minimum(first[:, None] + np.arange(ln.max())[None], len(d.said) - 1))
            w = d.word[idx]
            once, which = torch.unique(w, return_inverse=True)
            letters = net.gram(d.gram[once])[which]
            h = net.encode(d.vocab[w], d.vec[w], letters, kinds(d.sense[idx].long(), d.senses), d.gap[idx].clamp(max=3), d.num[idx], torch.as_tensor(ln))
            for k, i in enumerate(some):
                out[i] = h[k, : ln[k]].half()
    return out


def padded(states):
    n = max(len(s) for s in states)
    x = torch.zeros(len(states), n, states[0].shape[1])
    there = torch.zeros(len(states), n, dtype=torch.bool)
    for i, s in enumerate(states):
        x[i, : len(s)] = s.float()
        there[i, : len(s)] = True
    return x, there


def learned(d, net, most):
    meta, tune = d.meta, set(d.head["tune"])
    ln = d.tok_end[1:] - d.tok_end[:-1]
    rest = [u for u in range(len(meta)) if not d.before[u] and 0 < ln[u] <= 96]
    own = [u for u in rest if meta[u]["writer"] == "follows"]
    others = np.array([u for u in rest if meta[u]["writer"] != "follows" and meta[u]["writer"] not in tune])
    rated = d.order[:, -RATINGS:].sum(1).numpy() > 0
    np.random.RandomState(2).shuffle(others)
    # What rates a fault is rare in walks: all of it, and as much else as there is room for.
    others = np.concatenate([others[rated[others]], others[~rated[others]]])
    us = own + [int(u) for u in others[: max(0, most - len(own))]]
    y = d.order[torch.as_tensor(us)][:, -RATINGS:]
    states = encoded(net, d, us)
    print(len(us), "utterances,", int((y.sum(1) > 0).sum()), "rate", flush=True)
    head = Rated(net.wide)
    long = torch.as_tensor(sorted(range(len(us)), key=lambda i: len(states[i])))
    opt = torch.optim.AdamW(head.parameters(), lr=RATE, weight_decay=0.02)
    for step in range(STEPS):
        for g in opt.param_groups:
            g["lr"] = RATE * min(1, (step + 1) / 100) * (1 - step / STEPS) + 1e-5
        # Alike long ones together, so that little is padded.
        near = int(torch.randint(max(1, len(us) - WINDOW), (1,)))
        at = long[near + torch.randint(min(WINDOW, len(us)), (SIZE,))]
        x, there = padded([states[i] for i in at])
        loss = F.binary_cross_entropy_with_logits(head(x, there), y[at])
        opt.zero_grad()
        loss.backward()
        opt.step()
        if step % 250 == 0:
            print(step, f"{float(loss.detach()):.4f}", flush=True)
    head.eval()
    judged = [u for u in rest if meta[u]["writer"] in tune and meta[u]["level"] == "0"]
    with torch.no_grad():
        x, there = padded(encoded(net, d, judged))
        best, at = torch.sigmoid(head(x, there)).max(1)
    truth = d.order[torch.as_tensor(judged)][:, -RATINGS:]
    due = truth.sum(1) > 0
    right = (best > 0.5) & (truth[torch.arange(len(truth)), at] > 0)
    print("tune: due", int(due.sum()), "right", int((right & due).sum()), "rated where nobody did", int(((best > 0.5) & ~due).sum()), "of", int((~due).sum()))
    return head


def main(scores, net_file, data, vec, corpus, out, most="120000"):
    torch.manual_seed(1)
    d = Data(data, vec, "cpu")
    saved = torch.load(net_file, map_location="cpu")
    d.use(saved["vocab"])
    net = make(d, saved["vocab"], "cpu")
    net.load_state_dict({k: v.float() for k, v in saved["state"].items()})
    net.eval()
    head = learned(d, net, int(most))
    raw = open(scores, "rb").read()
    end = raw.index(b"\n")
    line = json.loads(raw[:end])
    at = end + 1
    blobs, shapes = [], []
    for m in line["matrices"]:
        size = m["rows"] * (4 + m["cols"])
        if not m["name"].startswith("rate_"):
            blobs.append(raw[at : at + size])
            shapes.append(m)
        at += size
    for name, t in head.state_dict().items():
        a = t.numpy()
        a = a.reshape(-1, 1) if a.ndim == 1 else a
        scale = np.maximum(np.abs(a).max(1), 1e-9) / 127
        shapes.append({"name": name, "rows": a.shape[0], "cols": a.shape[1]})
        blobs.append(scale.astype("<f4").tobytes() + np.clip(np.round(a / scale[:, None]), -127, 127).astype(np.int8).tobytes())
    table = open(vec, "rb").read()
    cut = table.index(b"\n")
    blobs.append(table[cut + 1 :])
    line.update(version=hashlib.sha256(b"".join(blobs)).hexdigest()[:12], corpus=corpus, vectors=json.loads(table[:cut]), matrices=shapes)
    with open(out, "wb") as f:
        f.write(json.dumps(line).encode() + b"\n" + b"".join(blobs))
    print(out, line["version"])


if __name__ == "__main__":
    main(*sys.argv[1:])
