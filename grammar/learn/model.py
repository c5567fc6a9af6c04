"""One pass of the net over a batch, and its losses."""

import torch
import torch.nn.functional as F

from net import D, Net

RES, GOOD, FIND, VAL, ASK, TALK, DONE, AMEND, EXCEPT = range(9)


def make(d, vocab, dev, drop=0.25, wide=D):
    h = d.head
    return Net(
        len(vocab), len(h["senses"]), d.feature.shape[1], len(h["out"]), len(h["forces"]), len(h["orders"]),
        len(h["labels"]), (d.crow.shape[1], d.arow.shape[1], d.prow.shape[1]), d.vec.shape[1], drop, wide,
    ).to(dev)


def forward(net, d, b, train=None):
    """`train`: dict of dropout shares for words, memory and place; None while judging."""
    dev = d.dev
    idx, ln, parts = b.said
    w = d.word[idx]
    word = d.vocab[w]
    vec = d.vec[w]
    letters = F.embedding(b.letters, net.gram(d.gram[b.once]))
    if train is not None:
        gone = torch.rand(word.shape, device=dev) < train["word"]
        gone &= word > 2
        own = torch.rand(word.shape, device=dev) < train["own"]
        word = torch.where((gone | own) & (word > 2), torch.ones_like(word), word)
        vec = vec * (~gone)[..., None]
        letters = letters * (~gone)[..., None]
    x = net.encode(word, vec, letters, kinds(d.sense[idx].long(), d.senses), d.gap[idx].clamp(max=3), d.num[idx], ln)
    h = torch.zeros(b.B, b.L, net.wide, device=dev)
    for live, rows, at_, wide in parts:
        h[live, at_ : at_ + wide] = x[rows, :wide]
    feat = b.feat if getattr(b, "feat", None) is not None else features(d, b, train, getattr(net, "given", False))
    z = net.candidates(h, b.mask, b.of, b.slot, b.size, b.marks, b.rel, b.wc, b.wx, feat)
    z = net.compete(z, b.B, b.slot, b.size, b.wc, d.station[b.c])
    o = {"out": net.out(z), "force": net.force(z), "which": net.which(z), "named": net.named(z)}
    o["order"] = net.order(z[b.null])
    if len(b.cof):
        span = b.cspan
        cs = torch.cat([torch.zeros(b.B, 1, net.wide, device=dev), h.cumsum(1)], 1)
        u = b.of[b.cof]
        hc = (cs[u, span[:, 1]] - cs[u, span[:, 0]]) / (span[:, 1] - span[:, 0])[:, None].clamp(min=1)
        o["condition"] = net.conditions(hc, z[b.cof], d.crow[b.crow].float() / 200)
    o["aspect"] = net.aspects(at(h, b.of[b.aof], b.aat), z[b.aof], d.arow[b.arow].float() / 200)
    o["place"] = net.places(at(h, b.of[b.pof], b.pat), z[b.pof], d.prow[b.prow].float() / 200)
    return o


def kinds(sense, n):
    """[S,T,K] numbers of cues, n for none, to [S,T,n] of nought and one."""
    out = torch.zeros(sense.shape[:2] + (n + 1,), device=sense.device)
    return out.scatter_(2, sense, 1.0)[..., :n]


def at(h, of, rows):
    """The mean of the states at the words of each row; nought where there are none."""
    row, token, n = rows
    out = torch.zeros(n, h.shape[2], device=h.device)
    if len(row):
        out = out.index_add(0, row, h[of[row], token])
        count = torch.zeros(n, device=h.device).index_add(0, row, torch.ones(len(row), device=h.device))
        out = out / count.clamp(min=1)[:, None]
    return out


def features(d, b, train, given):
    """Features of every candidate [C,F]; the station is hidden, and one's own decisions are shaken, while learning."""
    dev = d.dev
    feat = d.feature[b.c].float() / 200
    n = feat.shape[1]
    if train is not None:
        # Nobody says where they stand: hidden half of the time.
        told = (torch.rand(b.B, 1, device=dev) < 0.5).float()[b.of]
        place = feat[:, n - 3 :] * told
        # One's own decisions are wrong now and then, and often unknown.
        mem = feat[:, n - 21 : n - 3]
        known = ((torch.rand(b.B, 1, device=dev) > train["memory"]) & (b.alone[:, None] == 0)).float()[b.of]
        keep = (torch.rand(mem.shape, device=dev) > 0.15).float()
        noise = (torch.rand(mem.shape, device=dev) < 0.01).float()
        mem = torch.maximum(mem * keep, noise) * known
        return torch.cat([feat[:, : n - 21], mem, place], 1)
    if given:
        return feat
    return torch.cat([feat[:, : n - 3], feat[:, n - 3 :] * 0], 1)


def distilled(o, soft, b, weigh=3.0):
    """How far a pupil is from its teachers' mean: the same sums as `losses`, over soft targets."""
    t = soft["out"]
    w = torch.ones_like(t)
    w[:, FIND] += (weigh - 1) * t[:, FIND]
    w[:, ASK] += (weigh - 1) * t[:, ASK]
    total = (F.binary_cross_entropy_with_logits(o["out"], t, reduction="none") * w).sum(1).mean()
    res = (t[:, RES] > 0.3).float()
    if "condition" in o:
        ce = -(soft["condition"] * F.log_softmax(o["condition"], 1)).sum(1)
        cw = 0.05 + res[b.cof]
        total = total + 0.08 * (ce * cw).sum() / cw.sum().clamp(min=1)
    for name, of, share in (("aspect", b.aof, 0.08), ("place", b.pof, 0.16)):
        if len(of):
            bce = F.binary_cross_entropy_with_logits(o[name], soft[name], reduction="none")
            bce = bce if bce.ndim == 1 else bce.mean(1)
            cw = res[of] + 1e-6
            total = total + share * (bce * cw).sum() / cw.sum().clamp(min=1)
    return total


def mean_of(teachers, d, b):
    """What several nets say of a batch, averaged as shares."""
    soft = {}
    with torch.no_grad():
        for net in teachers:
            o = forward(net, d, b)
            for name in ("out", "aspect", "place", "condition"):
                if name in o:
                    x = torch.softmax(o[name], 1) if name == "condition" else torch.sigmoid(o[name])
                    soft[name] = soft.get(name, 0) + x / len(teachers)
    return soft


def meant(loss, which):
    """The mean of the losses that are meant, nought where none is; no wait for the accelerator."""
    return (loss * which).sum() / which.sum().clamp(min=1)


def losses(o, d, b, weigh=3.0):
    y = d.out[b.c]
    w = torch.ones_like(y)
    w[:, FIND] += (weigh - 1) * y[:, FIND]
    w[:, ASK] += (weigh - 1) * y[:, ASK]
    main = (F.binary_cross_entropy_with_logits(o["out"], y * 0.98 + 0.01, reduction="none") * w).sum(1).mean()
    res = (y[:, RES] > 0).float()
    total = main
    for name, truth, share in (("force", d.force[b.c], 0.08), ("which", d.which[b.c], 0.08)):
        ce = F.cross_entropy(o[name], truth.clamp(min=0), reduction="none")
        total = total + share * meant(ce, (truth >= 0).float())
    named = torch.zeros_like(o["named"])
    named[b.named[0], b.named[1]] = 1
    total = total + 0.06 * meant(F.binary_cross_entropy_with_logits(o["named"], named, reduction="none").sum(1), res)
    total = total + 0.6 * F.binary_cross_entropy_with_logits(o["order"], d.order[b.us], reduction="none").sum(1).mean()
    if "condition" in o:
        cw = 0.05 + 0.95 * res[b.cof]
        total = total + 0.15 * (F.cross_entropy(o["condition"], d.cis[b.crow], reduction="none") * cw).sum() / cw.sum().clamp(min=1)
    if len(b.aof):
        bce = F.binary_cross_entropy_with_logits(o["aspect"], d.ais[b.arow], reduction="none")
        total = total + 0.15 * meant(bce, res[b.aof])
    if len(b.pof):
        bce = F.binary_cross_entropy_with_logits(o["place"], d.pis[b.prow], reduction="none").mean(1)
        total = total + 0.3 * meant(bce, res[b.pof] * (d.which[b.c][b.pof] == 0).float())
    return total, main
