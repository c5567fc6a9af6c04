"""What tests/learn/export.ts wrote, on the device, and batches of it."""

import gzip
import json
import lzma
import struct

import numpy as np
import torch

from net import GRAMS, MARKS

SENSES = 36
# A check is named outright where this share of a name is said, in two-hundredths.
NAMED = 120


def fnv(text):
    h = 2166136261
    for ch in text.encode():
        h = ((h ^ ch) * 16777619) & 0xFFFFFFFF
    return h


def grams(word):
    """Buckets of a word's three-letter pieces, at most ten; none for a masked name."""
    if word.startswith("<"):
        return [GRAMS] * 10
    x = "^" + word + "$"
    r = [fnv(x[i : i + 3]) % GRAMS for i in range(len(x) - 2)][:10]
    return r + [GRAMS] * (10 - len(r))


def vectors(file):
    raw = open(file, "rb").read()
    end = raw.index(b"\n")
    head = json.loads(raw[:end])
    words = head["words"].split(" ")
    t = np.frombuffer(raw[end + 1 :], np.int8).reshape(len(words), head["dims"]).astype(np.float32)
    t = t / np.maximum(np.linalg.norm(t, axis=1, keepdims=True), 1e-6)
    return words, t


SIDES = {"lh": "left", "rh": "right", "front": "forward", "fwd": "forward", "rear": "aft", "top": "upper", "bottom": "lower", "inner": "inboard", "outer": "outboard", "lefthand": "left", "righthand": "right"}


def stem(w):
    import re

    if w in SIDES:
        return SIDES[w]
    if len(w) > 4 and w.endswith("ies"):
        return w[:-3] + "y"
    if len(w) > 4 and re.search(r"(ss|x|ch|sh)es$", w):
        return w[:-2]
    if len(w) > 3 and w.endswith("s") and not re.search(r"(ss|us|is)$", w):
        return w[:-1]
    return w


def opened(file):
    """One file of the exporter, or of travel.py: its head and its arrays."""
    raw = (lzma if file.endswith(".xz") else gzip).open(file).read()
    (n,) = struct.unpack("<I", raw[:4])
    head = json.loads(raw[4 : 4 + n])
    at = 4 + n
    z = {}

    def take(rows, wide):
        nonlocal at
        a = np.frombuffer(raw, np.uint8, rows * wide, at).reshape(wide, rows).T
        at += rows * wide
        return a

    for name, (kind, size) in head["shape"].items():
        dtype = "<i4" if kind == "i4" else np.uint8
        how = head["small"][name] if "small" in head else None
        if how is None:
            z[name] = np.frombuffer(raw, dtype, size // np.dtype(dtype).itemsize, at)
            at += size
        elif "bits" in how:
            a = np.zeros((how["rows"], len(how["bits"]) + len(how["rest"])), np.uint8)
            a[:, how["bits"]] = np.unpackbits(take(how["rows"], (len(how["bits"]) + 7) // 8), axis=1)[:, : len(how["bits"])] * 200
            a[:, how["rest"]] = take(how["rows"], len(how["rest"]))
            z[name] = a.ravel()
        else:
            a = np.ascontiguousarray(take(how["rows"], size // max(1, how["rows"]))).ravel().view(dtype)
            z[name] = np.cumsum(a, dtype=a.dtype) if name.endswith("End") else a
    return head, z


def joined(files):
    """Several files as if they had been written as one."""
    head = dict(files[0][0])
    strings, meta, parts = {}, [], {}
    upto = {}
    for own, z in files:
        if (own["senses"], own["out"], own["labels"]) != (head["senses"], head["out"], head["labels"]):
            raise SystemExit("These files are not of one reader: export them all anew.")
        row = np.array([strings.setdefault(w, len(strings)) for w in own["strings"]], np.int32)
        for name, a in z.items():
            if name == "word":
                a = row[a]
            elif name == "back":
                a = np.where(a >= 0, a + len(meta), a)
            elif name.endswith("End"):
                a = a + upto.get(name, 0)
                upto[name] = int(a[-1]) if len(a) else upto.get(name, 0)
            parts.setdefault(name, []).append(a)
        meta += own["meta"]
    head["strings"], head["meta"] = list(strings), meta
    return head, {name: np.concatenate(a) for name, a in parts.items()}


class Data:
    def __init__(self, file, vec_file, dev):
        self.head, z = joined([opened(f) for f in file.split(",")])
        head = self.head
        self.meta = head["meta"]
        self.strings = head["strings"]
        no = len(head["out"])
        C = len(z["force"]) // 2
        U = len(self.meta)
        end = lambda name: np.concatenate([[0], z[name]]).astype(np.int64)
        self.tok_end, self.cand_end = end("tokenEnd"), end("candidateEnd")
        self.mark_end, self.named_end = end("markEnd"), end("namedEnd")
        self.asp_end, self.place_end, self.crow_end = end("aspectEnd"), end("placeEnd"), end("conditionRowEnd")
        self.span_end = end("conditionEnd")
        self.back = z["back"].reshape(U, 3).astype(np.int64)
        self.dev = dev
        t = lambda a, dt=None: torch.as_tensor(np.ascontiguousarray(a if dt is None else a.astype(dt))).to(dev)
        # words
        self.said = z["word"]
        self.word = t(z["word"], np.int64)
        tok = z["token"].reshape(-1, 6)
        self.gap = t(tok[:, 0], np.int64)
        self.num = t(np.concatenate([tok[:, 1:3], tok[:, 3:] / 200.0, ((np.abs(tok[:, 3:4].astype(int) - tok[:, 4:5]) < 2) & (tok[:, 3:4] > 0))], 1), np.float32)
        self.best = t(tok[:, 3:] / 200.0, np.float32)
        NS = len(head["senses"])
        se = end("senseEnd")
        sense = np.full((len(z["word"]), SENSES), NS, np.int16)
        ln = np.minimum(se[1:] - se[:-1], SENSES)
        for k in range(SENSES):
            m = ln > k
            sense[m, k] = z["sense"][se[:-1][m] + k]
        self.sense = t(sense)
        self.senses = NS
        self.feature = t(z["feature"].reshape(C, -1))
        self.out = t(z["out"].reshape(C, no), np.float32)
        f = z["force"].reshape(C, 2).astype(np.int64)
        self.force, self.which = t(f[:, 0] - 1), t(f[:, 1] - 1)
        self.station = t(z["station"], np.int64)
        m = z["mark"].reshape(-1, 5)
        self.mark = m.astype(np.int64)
        self.named = z["named"].astype(np.int64)
        self.crow = t(z["conditionRow"].reshape(len(z["conditionIs"]), -1))
        self.cis = t(z["conditionIs"], np.int64)
        self.arow = t(z["aspectRow"].reshape(len(z["aspectIs"]), -1))
        self.ais = t(z["aspectIs"], np.float32)
        self.aat, self.aat_end = z["aspectAt"].astype(np.int64), end("aspectAtEnd")
        self.pat, self.pat_end = z["placeAt"].astype(np.int64), end("placeAtEnd")
        self.pis = t(z["placeIs"].reshape(-1, 3), np.float32)
        self.prow = t(z["placeRow"].reshape(len(self.pis), -1))
        self.span = z["conditionSpan"].reshape(-1, 2).astype(np.int64)
        self.order = t(z["order"].reshape(U, -1), np.float32)
        self.size = (C, U)
        # What was said before a single utterance is there to be remembered and has no labels.
        key = lambda u: (self.meta[u]["walk"], self.meta[u]["level"])
        self.before = [self.meta[u]["writer"] == "old" and u + 1 < U and key(u) == key(u + 1) for u in range(U)]
        # Where everything that is meant is named in the utterance itself, it means the same out of the blue.
        own = np.zeros(C, np.int64)
        mine = np.repeat(np.arange(C), self.mark_end[1:] - self.mark_end[:-1])
        now = self.mark[:, 0] == 0
        np.maximum.at(own, mine[now], self.mark[now, 2])
        said = z["out"].reshape(C, no)
        meant = (said[:, head["out"].index("RES")] > 0) | (said[:, head["out"].index("TALK")] > 0)
        meant[self.cand_end[1:] - 1] = False
        unnamed = np.concatenate([[0], np.cumsum(meant & (own < NAMED))])
        self.whole = unnamed[self.cand_end[1:]] == unnamed[self.cand_end[:-1]]
        words, table = vectors(vec_file)
        row = {w: i for i, w in enumerate(words)}
        rows = [row.get(s, row.get(stem(s), -1)) if not s.startswith("<") else -1 for s in self.strings]
        self.vec_row = rows
        vec = np.zeros((len(self.strings), table.shape[1]), np.float32)
        for i, r in enumerate(rows):
            if r >= 0:
                vec[i] = table[r]
        self.vec = t(vec)
        self.gram = t(np.array([grams(s) for s in self.strings]), np.int64)

    def vocabulary(self, utterances, least=8):
        """Words often enough among these utterances to have a row of their own: said about twice,
        as every utterance is here in six states. What is rarer has its vector and its letters."""
        from collections import Counter

        n = Counter()
        w = self.said
        for u in utterances:
            n.update(w[self.tok_end[u] : self.tok_end[u + 1]].tolist())
        kept = ["<pad>", "<unknown>", "<name>"] + sorted(self.strings[i] for i, c in n.items() if c >= least and self.strings[i] != "<name>")
        return kept

    def use(self, vocab):
        ix = {w: i for i, w in enumerate(vocab)}
        self.vocab = torch.as_tensor([ix.get(s, 1) for s in self.strings]).to(self.dev)


def ranges(start, end):
    """All numbers of the ranges one behind the other, and which range each is of."""
    n = end - start
    of = np.repeat(np.arange(len(n)), n)
    at = np.arange(n.sum()) - np.repeat(np.cumsum(n) - n, n) + np.repeat(start, n)
    return at, of


class Plan:
    """What a batch needs, worked out in numpy: made beside the accelerator's work, by another thread."""

    def __init__(self, d, us, alone=None):
        """`alone` [B]: which of them are read as if nothing had been said before."""
        B = len(us)
        seqs = np.concatenate([us[:, None], d.back[us]], 1)  # [B,4]
        if alone is not None:
            seqs[alone, 1:] = -1
        lens = np.where(seqs >= 0, d.tok_end[seqs + 1] - d.tok_end[seqs], 0)
        T = [max(1, int(lens[:, s].max())) for s in range(4)]
        off = np.concatenate([[0], np.cumsum(T)]).astype(np.int64)
        self.B, self.L, self.off, self.T = B, int(off[-1]), off, T
        out = self.arrays = {"us": us}
        # every utterance and every one before it is read in one go
        alive = [np.nonzero(lens[:, s] > 0)[0] for s in range(4)]
        first = np.concatenate([d.tok_end[seqs[live, s]] for s, live in enumerate(alive)])
        self.length = np.concatenate([lens[live, s] for s, live in enumerate(alive)])
        out["idx"] = np.minimum(first[:, None] + np.arange(max(T))[None], len(d.said) - 1)
        # the letters of a word are summed once, however often it is said
        out["once"], which = np.unique(d.said[out["idx"]], return_inverse=True)
        out["letters"] = which.reshape(out["idx"].shape)
        upto = np.cumsum([0] + [len(x) for x in alive])
        self.parts = [(s, int(upto[s]), int(upto[s + 1])) for s in range(4) if len(alive[s])]
        for s, live in enumerate(alive):
            out[f"live{s}"] = live
        out["lens"] = lens
        out["alone"] = np.zeros(B, np.int64) if alone is None else alone.astype(np.int64)
        # candidates
        at, of = ranges(d.cand_end[us], d.cand_end[us + 1])
        C = self.C = len(at)
        counts = d.cand_end[us + 1] - d.cand_end[us]
        self.size = int(counts.max())
        out["c"], out["of"] = at, of
        out["slot"] = of * self.size + (np.arange(C) - np.repeat(np.cumsum(counts) - counts, counts))
        out["null"] = np.cumsum(counts) - 1
        # marks
        ma, mo = ranges(d.mark_end[at], d.mark_end[at + 1])
        m = d.mark[ma]
        ok = m[:, 1] < lens[of[mo], m[:, 0]]
        m = m[ok]
        out["mark"] = np.stack([mo[ok], off[m[:, 0]] + m[:, 1], m[:, 2], m[:, 3], m[:, 4]]).astype(np.int64)
        # conditions, aspects, places
        ca, co = ranges(d.crow_end[at], d.crow_end[at + 1])
        out["crow"], out["cof"] = ca, co
        k = ca - d.crow_end[at][co]
        first = d.span_end[us]
        out["cspan"] = d.span[np.minimum(first[of[co]] + k, max(0, len(d.span) - 1))] if len(d.span) else np.zeros((0, 2), np.int64)
        out["arow"], out["aof"] = ranges(d.asp_end[at], d.asp_end[at + 1])
        out["prow"], out["pof"] = ranges(d.place_end[at], d.place_end[at + 1])
        x, y = ranges(d.aat_end[out["arow"]], d.aat_end[out["arow"] + 1])
        out["aat"] = np.stack([y, d.aat[x]])
        x, y = ranges(d.pat_end[out["prow"]], d.pat_end[out["prow"] + 1])
        out["pat"] = np.stack([y, d.pat[x]])
        na, nof = ranges(d.named_end[at], d.named_end[at + 1])
        out["named"] = np.stack([nof, d.named[na]])

    def packed(self):
        """Shapes by name, and all arrays in one, four bytes a number: what travels between processes."""
        shapes = {name: a.shape for name, a in self.arrays.items()}
        return shapes, np.concatenate([a.astype(np.int32, copy=False).ravel() for a in self.arrays.values()])


class Sent:
    """A plan that came from another process, ready for the device."""

    def __init__(self, head, flat):
        self.B, self.L, self.off, self.T, self.C, self.size, self.length, self.parts, self.shapes = head
        self.flat = flat

    @staticmethod
    def head(plan, shapes):
        return plan.B, plan.L, plan.off, plan.T, plan.C, plan.size, plan.length, plan.parts, shapes

    @staticmethod
    def of(plan):
        shapes, flat = plan.packed()
        return Sent(Sent.head(plan, shapes), torch.as_tensor(flat))

    def ship(self, dev):
        """All arrays on the device, in one copy."""
        flat = self.flat.to(dev, non_blocking=True).long()
        got, at = {}, 0
        for name, shape in self.shapes.items():
            n = int(np.prod(shape))
            got[name] = flat[at : at + n].view(shape)
            at += n
        return got


class Batch:
    """`us`: numbers of utterances, or the plan of them."""

    def __init__(self, d, us):
        p = us if isinstance(us, Sent) else Sent.of(Plan(d, us))
        dev = d.dev
        g = p.ship(dev)
        B, L, T, off = p.B, p.L, p.T, p.off
        self.B, self.L, self.off, self.size = B, L, off, p.size
        self.alone, self.once, self.letters = g["alone"], g["once"], g["letters"]
        self.us, self.c, self.of, self.slot, self.null = g["us"], g["c"], g["of"], g["slot"], g["null"]
        idx = g["idx"]
        self.said = (idx, torch.as_tensor(p.length), [(g[f"live{s}"], slice(a, b), int(off[s]), T[s]) for s, a, b in p.parts])
        lens = g["lens"]
        self.mask = torch.cat([torch.arange(T[s], device=dev)[None] < lens[:, s : s + 1] for s in range(4)], 1)
        # marks
        cand, pos, mn, mm, mf = g["mark"]
        name = torch.zeros(p.C, L, device=dev)
        mean = torch.zeros(p.C, L, device=dev)
        fl = torch.zeros(p.C, L, dtype=torch.long, device=dev)
        name[cand, pos] = mn.float() / 200
        mean[cand, pos] = mm.float() / 200
        fl[cand, pos] = mf
        # per token best, second, station over the layout
        bst = torch.zeros(B, L, 3, device=dev)
        ask = torch.zeros(B, L, device=dev)
        for live, rows, at_, wide in self.said[2]:
            bst[live, at_ : at_ + wide] = d.best[idx[rows, :wide]]
            ask[live, at_ : at_ + wide] = d.num[idx[rows, :wide]][..., 0]
        there = self.mask.float()
        bst, ask = bst * there[..., None], ask * there
        cur = (torch.arange(L, device=dev) < T[0]).float()
        self.marks, self.rel, self.wc, self.wx = marks_of(name, mean, fl, bst[self.of], ask[self.of], cur, off, dev)
        self.crow, self.cof, self.cspan = g["crow"], g["cof"], g["cspan"]
        self.arow, self.aof, self.prow, self.pof = g["arow"], g["aof"], g["prow"], g["pof"]
        self.aat = (g["aat"][0], g["aat"][1], len(self.arow))
        self.pat = (g["pat"][0], g["pat"][1], len(self.prow))
        self.named = g["named"]


def marks_of(name, mean, fl, best, asks, cur, off, dev):
    """Marks [C,L,MARKS], distances [C,L], and the weights of the candidate's own words."""
    C, L = name.shape
    b1, b2, st = best[..., 0], best[..., 1], best[..., 2]
    other = torch.where(name >= b1 - 0.005, b2, b1)
    own = ((name > 0.25) & (name >= torch.maximum(b1, st) - 0.02)) | ((name > 0.25) & (name >= b1 - 0.02))
    lag = torch.zeros(L, dtype=torch.long, device=dev)
    for s in range(1, 4):
        lag[int(off[s]) : int(off[s + 1])] = s
    curs = cur[None].expand(C, L)
    f = [name, other, st] + [(fl >> b & 1).float() for b in range(6)]
    f += [(name >= 0.97).float(), own.float(), (other > name + 0.01).float(), (other >= 0.9).float(), curs, asks, mean]
    f += [(lag == s).float()[None].expand(C, L) for s in range(1, 4)]
    marks = torch.stack(f, -1)
    assert marks.shape[-1] == MARKS
    o = own.float()
    wc = name * o * curs
    wx = name * o * (1 - curs) * torch.exp(-1.5 * (lag.float() - 1).clamp(min=0))[None]
    wc = wc / (wc.sum(1, keepdim=True) + 1e-3)
    wx = wx / (wx.sum(1, keepdim=True) + 1e-3)
    ar = torch.arange(L, device=dev)
    ow = own & (curs > 0)
    big = torch.where(ow, ar[None].expand(C, L), torch.full_like(fl, -999))
    last = torch.cummax(big, 1)[0]
    big2 = torch.where(ow, ar[None].expand(C, L), torch.full_like(fl, 999))
    nxt = torch.flip(torch.cummin(torch.flip(big2, [1]), 1)[0], [1])
    dl, dn = ar[None] - last, nxt - ar[None]
    r = torch.where(dl <= dn, dl, -dn)
    rel = torch.where(r.abs() > 500, torch.full_like(r, 17), r.clamp(-8, 8) + 8)
    rel = torch.where(curs > 0, rel, (18 + lag)[None].expand(C, L))
    return marks, rel, wc, wx
