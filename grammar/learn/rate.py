"""Learns the four rows that say how bad a fault is on a net that stands, and nothing else of it.

    python3 rate.py NET.pt DATA.gz[,…] VECTORS.bin OUT.pt [MOST]

A mean of nets is a good net, but its rows of ratings fit none of their states: they are learned anew over
its own. MOST utterances of the data at most, all of `follows` first.
"""

import sys

import numpy as np
import torch
import torch.nn.functional as F

from data import Batch, Data
from model import forward, make

RATINGS = 4
STEPS = 1500


def main(net_file, data, vec, out, most="90000"):
    torch.manual_seed(1)
    d = Data(data, vec, "cpu")
    saved = torch.load(net_file, map_location="cpu")
    d.use(saved["vocab"])
    net = make(d, saved["vocab"], "cpu")
    net.load_state_dict({k: v.float() for k, v in saved["state"].items()})
    net.eval()
    net.given = False
    tune = set(d.head["tune"])
    ln = d.tok_end[1:] - d.tok_end[:-1]
    meta = d.meta
    rest = [u for u in range(len(meta)) if not d.before[u] and 0 < ln[u] <= 96]
    own = [u for u in rest if meta[u]["writer"] == "follows"]
    others = np.array([u for u in rest if meta[u]["writer"] != "follows" and meta[u]["writer"] not in tune])
    np.random.RandomState(2).shuffle(others)
    judged = np.array([u for u in rest if meta[u]["writer"] in tune and meta[u]["level"] == "0"])
    learn = np.concatenate([np.array(own), others[: max(0, int(most) - len(own))]])
    seen = []
    net.order.register_forward_pre_hook(lambda _, x: seen.append(x[0].detach()))

    def states(us):
        seen.clear()
        with torch.no_grad():
            for i in range(0, len(us), 256):
                forward(net, d, Batch(d, us[i : i + 256]))
                if i % 25600 == 0:
                    print(i, len(us), flush=True)
        return torch.cat(seen), d.order[torch.as_tensor(np.asarray(us))][:, -RATINGS:]

    # Alike long by batch, so that little is padded.
    learn = learn[np.argsort(ln[learn], kind="stable")]
    x, y = states(learn)
    xt, yt = states(judged)
    head = torch.nn.Linear(x.shape[1], RATINGS)
    with torch.no_grad():
        head.weight.copy_(net.order.weight[-RATINGS:])
        head.bias.copy_(net.order.bias[-RATINGS:])
    opt = torch.optim.AdamW(head.parameters(), lr=5e-3, weight_decay=0.01)
    for step in range(STEPS):
        for g in opt.param_groups:
            g["lr"] = 5e-3 * (1 - step / STEPS) + 1e-5
        at = torch.randint(len(x), (8192,))
        loss = F.binary_cross_entropy_with_logits(head(x[at]), y[at])
        opt.zero_grad()
        loss.backward()
        opt.step()
    with torch.no_grad():
        p = torch.sigmoid(head(xt))
        for name, rows, truth in (("learned", torch.sigmoid(head(x)), y), ("tune", p, yt)):
            due = truth.sum(1) > 0
            best, at = rows.max(1)
            right = (best > 0.5) & (truth[torch.arange(len(truth)), at] > 0)
            print(name, "due", int(due.sum()), "right", int((right & due).sum()), "rated where nobody did", int(((best > 0.5) & ~due).sum()), "of", int((~due).sum()))
        state = dict(saved["state"])
        for k, rows in (("order.weight", head.weight), ("order.bias", head.bias)):
            a = state[k].float().clone()
            a[-RATINGS:] = rows
            state[k] = a
    torch.save({**saved, "state": state}, out)


main(*sys.argv[1:])
