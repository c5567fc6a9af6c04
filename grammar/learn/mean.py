"""The mean of two nets that began as one.

    python3 mean.py BEFORE.pt AFTER.pt OUT.pt [SHARE]

SHARE is that of AFTER, .5 where it is not given.
"""

import sys

import torch


def main(before, after, out, share="0.5"):
    a, b = torch.load(before, map_location="cpu"), torch.load(after, map_location="cpu")
    if a["vocab"] != b["vocab"]:
        raise SystemExit(f"{before} and {after} know different words: the one has to begin from the other.")
    p = float(share)
    state = {k: a["state"][k].float() * (1 - p) + b["state"][k].float() * p for k in b["state"]}
    torch.save({**b, "state": state}, out)


main(*sys.argv[1:5])
