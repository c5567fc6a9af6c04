"""The mean of nets that began as one.

    python3 mean.py OUT.pt NET.pt[:SHARE] NET.pt[:SHARE] …

A net counts as much as its SHARE says, 1 where it is not given.
"""

import sys

import torch


def main(out, *nets):
    parts = [(n.rpartition(":")[0], float(n.rpartition(":")[2])) if ":" in n else (n, 1.0) for n in nets]
    all_of = [torch.load(name, map_location="cpu") for name, _ in parts]
    whole = sum(p for _, p in parts)
    last = all_of[-1]
    for (name, _), a in zip(parts, all_of):
        if a["vocab"] != last["vocab"]:
            raise SystemExit(f"{name} and {parts[-1][0]} know different words: they have to begin from one net.")
    state = {k: sum(a["state"][k].float() * p for (_, p), a in zip(parts, all_of)) / whole for k in last["state"]}
    torch.save({**last, "state": state}, out)


main(sys.argv[1], *sys.argv[2:])
