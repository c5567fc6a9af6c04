"""Trains the reader's scores.

    python3 train.py DATA.gz VECTORS.bin OUT_DIR [--steps N] [--seeds 1,2] [--all] [--limit SECONDS]

`--all` learns from the tune part too (the last run, once everything is chosen).
"""

import argparse
import math
import os
import sys
import time

import numpy as np
import torch

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))
from data import Batch, Data
from net import D
from plans import planned
from model import ASK, FIND, GOOD, RES, TALK, distilled, features, forward, losses, make, mean_of


# Steps between two lines of the log.
EVERY = 250


def judge(net, d, us, given=False):
    net.eval()
    net.given = given
    n = {k: 0 for k in "tp fp fn pol polr fg goods gr named lost finds ff clean ttp tfp tfn ar an pr pn cr cn".split()}
    with torch.no_grad():
        for i in range(0, len(us), 96):
            b = Batch(d, us[i : i + 96])
            o = forward(net, d, b)
            p = torch.sigmoid(o["out"]).cpu().numpy()
            y = d.out[b.c].cpu().numpy()
            null = np.zeros(len(p), bool)
            null[b.null.cpu().numpy()] = True
            of = b.of.cpu().numpy()
            r, t = p[:, RES] > 0.5, y[:, RES] > 0
            r = r & ~null
            t = t & ~null
            n["tp"] += (r & t).sum(); n["fp"] += (r & ~t).sum(); n["fn"] += (~r & t).sum()
            both = r & t
            n["pol"] += both.sum(); n["polr"] += (both & ((p[:, FIND] > 0.5) == (y[:, FIND] > 0))).sum()
            g = (p[:, GOOD] > 0.5) & r
            n["fg"] += (g & ~(y[:, GOOD] > 0)).sum(); n["goods"] += (y[:, GOOD] > 0).sum(); n["gr"] += (g & (y[:, GOOD] > 0)).sum()
            n["named"] += ((y[:, RES] > 0) | (y[:, TALK] > 0)).sum()
            f = y[:, FIND] > 0
            n["finds"] += f.sum(); n["lost"] += (f & ~(p[:, FIND] > 0.5)).sum()
            uf = np.zeros(b.B, bool); np.logical_or.at(uf, of, f)
            pf = np.zeros(b.B, bool); np.logical_or.at(pf, of, p[:, FIND] > 0.5)
            n["clean"] += (~uf).sum(); n["ff"] += (pf & ~uf).sum()
            k, kt = (p[:, TALK] > 0.5) & ~null, (y[:, TALK] > 0) & ~null
            n["ttp"] += (k & kt).sum(); n["tfp"] += (k & ~kt).sum(); n["tfn"] += (~k & kt).sum()
            ra = (d.out[b.c][:, RES] > 0)[b.aof]
            n["an"] += int(ra.sum()); n["ar"] += int(((o["aspect"] > 0) == (d.ais[b.arow] > 0))[ra].sum())
            rp = (d.out[b.c][:, RES] > 0)[b.pof] & (d.which[b.c][b.pof] == 0)
            n["pn"] += int(rp.sum()); n["pr"] += int(((o["place"] > 0) == (d.pis[b.prow] > 0)).all(1)[rp].sum())
            if "condition" in o:
                rc = (d.out[b.c][:, RES] > 0)[b.cof]
                n["cn"] += int(rc.sum()); n["cr"] += int((o["condition"].argmax(1) == d.cis[b.crow])[rc].sum())
    net.train()
    f1 = lambda a, b, c: 2 * a / max(1, 2 * a + b + c)
    return (
        f"F1 {f1(n['tp'], n['fp'], n['fn']):.3f} pol {n['polr'] / max(1, n['pol']):.3f} fg {1000 * n['fg'] / max(1, n['named']):.0f} "
        f"good {n['gr'] / max(1, n['goods']):.2f} lost {1000 * n['lost'] / max(1, n['finds']):.0f} ff {100 * n['ff'] / max(1, n['clean']):.1f} "
        f"talk {f1(n['ttp'], n['tfp'], n['tfn']):.3f} asp {n['ar'] / max(1, n['an']):.3f} place {n['pr'] / max(1, n['pn']):.3f} cond {n['cr'] / max(1, n['cn']):.3f}"
    )


def train(d, learn, tune, seed, steps, limit, out, size=64, teachers=None, start="", warm=100, weigh=3.0, rate=2e-3, verbose=True, clock=True, wide=D, drop=0.25, alone=0.0, workers=1, words=""):
    dev = d.dev
    torch.manual_seed(seed)
    begun = torch.load(start, map_location=dev) if start else None
    known = begun or (torch.load(words, map_location="cpu") if words else None)
    vocab = known["vocab"] if known else d.vocabulary(learn)
    if any(t.vocab != vocab for t in teachers or []):
        raise SystemExit("A teacher knows other words: teach all with --words of one net.")
    d.use(vocab)
    net = make(d, vocab, dev, drop=drop, wide=begun.get("wide", D) if begun else wide)
    if begun:
        net.load_state_dict(begun["state"])
    opt = torch.optim.AdamW(net.parameters(), lr=rate, weight_decay=0.02, **({"fused": True} if dev == "cuda" else {}))
    ln = d.tok_end[1:] - d.tok_end[:-1]
    learn = np.array([u for u in learn if 0 < ln[u] <= 96])
    t0 = time.time()
    ahead = planned(d, learn, size, ln, seed, alone, workers)
    shares = {"word": 0.1, "own": 0.15, "memory": 0.3}
    done = 0
    for step in range(steps):
        part = max(step / steps, (time.time() - t0) / limit)
        if part >= 1:
            break
        for g in opt.param_groups:
            g["lr"] = rate * min(1, (step + 1) / warm) * (0.5 + 0.5 * math.cos(math.pi * part)) + 1e-6
        b = Batch(d, ahead.get())
        b.feat = features(d, b, shares, False)
        if clock and step == 20:
            torch.cuda.synchronize() if dev == "cuda" else None
            t1 = time.time()
        o = forward(net, d, b, shares)
        loss, main = losses(o, d, b, weigh)
        if teachers:
            loss = 0.35 * loss + 0.65 * distilled(o, mean_of(teachers, d, b), b, weigh)
        opt.zero_grad()
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        opt.step()
        done = step + 1
        if clock and step == 20 and dev == "cuda":
            torch.cuda.synchronize()
            t2 = time.time()
            Batch(d, ahead.get())
            torch.cuda.synchronize()
            print(f"seed {seed} one step {t2 - t1:.3f} s, one batch {time.time() - t2:.3f} s", flush=True)
        if verbose and step % EVERY == 0:
            print(f"seed {seed} step {step} loss {float(loss):.3f} main {float(main):.3f} {time.time() - t0:.0f} s", flush=True)
    net.eval()
    name = os.path.join(out, f"net-{seed}.pt")
    torch.save({"state": net.state_dict(), "vocab": vocab, "steps": done, "wide": net.wide}, name)
    if len(tune):
        some = [u for u in learn if d.meta[u]["level"] == "0" and d.meta[u]["writer"] not in ("old", "prose")]
        some = np.array(sorted(np.random.RandomState(1).permutation(some)[:1200]))
        print(f"seed {seed} learn 0 hidden: {judge(net, d, some)}", flush=True)
        for level in ("0", "20"):
            us = np.array([u for u in tune if d.meta[u]["level"] == level])
            if len(us):
                print(f"seed {seed} tune {level} hidden: {judge(net, d, us)}", flush=True)
                print(f"seed {seed} tune {level} given:  {judge(net, d, us, True)}", flush=True)
    return net, vocab


def main():
    a = argparse.ArgumentParser()
    a.add_argument("data"); a.add_argument("vectors"); a.add_argument("out")
    a.add_argument("--steps", type=int, default=4000)
    a.add_argument("--seeds", default="1")
    a.add_argument("--all", action="store_true")
    a.add_argument("--limit", type=float, default=1e9)
    a.add_argument("--size", type=int, default=64)
    a.add_argument("--weigh", type=float, default=3.0)
    a.add_argument("--rate", type=float, default=2e-3)
    a.add_argument("--start", default="", help="a net to go on from")
    a.add_argument("--teachers", default="", help="nets to learn from, as files parted by commas")
    a.add_argument("--short", type=int, default=0, help="a last touch: single utterances, and as many short ones of walks")
    a.add_argument("--quiet", action="store_true", help="no judging at the end")
    a.add_argument("--warm", type=int, default=100, help="steps until the full rate")
    a.add_argument("--old", type=int, default=1, help="how often single utterances are shown")
    a.add_argument("--again", default="", help="writers shown twice as often, parted by commas")
    a.add_argument("--wide", type=int, default=D, help="width of the states; only D can be packed, a teacher may be wider")
    a.add_argument("--drop", type=float, default=0.25, help="share of states dropped while learning")
    a.add_argument("--alone", type=float, default=0.0, help="share of what can be read out of the blue that is")
    a.add_argument("--words", default="", help="a net whose words are used, where none is gone on from")
    a.add_argument("--workers", type=int, default=1, help="processes that make batches ahead")
    a.add_argument("--fold", default="", help="writers left out, to judge and to calibrate by")
    x = a.parse_args()
    dev = "cuda" if torch.cuda.is_available() else "cpu"
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    t0 = time.time()
    d = Data(x.data, x.vectors, dev)
    fold = set(x.fold.split(",")) if x.fold else set(d.head["tune"])
    U = len(d.meta)
    tune = [u for u in range(U) if d.meta[u]["writer"] in fold]
    learn = [u for u in range(U) if x.all or d.meta[u]["writer"] not in fold]
    learn = [u for u in learn if not d.before[u]]
    print(len(learn), "to learn,", len(tune), "to tune;", d.size, f"{time.time() - t0:.0f} s", flush=True)
    os.makedirs(x.out, exist_ok=True)
    teachers = []
    for file in filter(None, x.teachers.split(",")):
        saved = torch.load(file, map_location=dev)
        net = make(d, saved["vocab"], dev, wide=saved.get("wide", D))
        net.load_state_dict(saved["state"])
        net.eval()
        net.vocab = saved["vocab"]
        teachers.append(net)
    if x.short:
        rnd = np.random.RandomState(5)
        n = d.tok_end[1:] - d.tok_end[:-1]
        single = [u for u in learn if d.meta[u]["writer"] == "old"]
        walks = [u for u in learn if d.meta[u]["writer"] not in ("old", "prose") and n[u] <= x.short]
        prose = [u for u in learn if d.meta[u]["writer"] == "prose" and n[u] <= x.short]
        rnd.shuffle(walks)
        rnd.shuffle(prose)
        learn = single + walks[: int(1.4 * len(single))] + prose[: len(single) // 5]
    if x.old > 1:
        learn = learn + [u for u in learn if d.meta[u]["writer"] == "old"] * (x.old - 1)
    again = set(filter(None, x.again.split(",")))
    learn = learn + [u for u in learn if d.meta[u]["writer"] in again]
    tune = [] if x.quiet else tune
    for seed in map(int, x.seeds.split(",")):
        train(d, learn, tune, seed, x.steps, x.limit, x.out, x.size, teachers, x.start, x.warm, weigh=x.weigh, rate=x.rate, wide=x.wide, drop=x.drop, alone=x.alone, workers=x.workers, words=x.words)


if __name__ == "__main__":
    main()
