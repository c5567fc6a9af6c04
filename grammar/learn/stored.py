"""What the trained net says of the first utterances of some walks, for the test of the TypeScript net.

    python3 stored.py NET.pt DATA.gz VECTORS.bin OUT.json
"""

import json
import sys

import numpy as np
import torch
from data import Batch, Data
from model import forward, make

HOW_MANY = 24


def main(net_file, data_file, vec_file, out):
    d = Data(data_file, vec_file, "cpu")
    saved = torch.load(net_file, map_location="cpu")
    d.use(saved["vocab"])
    net = make(d, saved["vocab"], "cpu")
    net.load_state_dict(saved["state"])
    net.eval()
    seen, rows = set(), []
    for u, m in enumerate(d.meta):
        if m["level"] != "0" or m["writer"] in ("old", "prose") or m["walk"] in seen:
            continue
        seen.add(m["walk"])
        if len(seen) % 4 or len(rows) >= HOW_MANY:
            continue
        b = Batch(d, np.array([u]))
        with torch.no_grad():
            p = torch.sigmoid(forward(net, d, b)["out"]).numpy()
        rows.append({"walk": m["walk"], "keys": m["keys"], "p": [[round(float(x), 4) for x in row] for row in p]})
    json.dump(rows, open(out, "w"))
    print(len(rows), "utterances")


main(*sys.argv[1:5])
