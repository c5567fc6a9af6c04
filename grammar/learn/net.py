"""The net: one encoder for the words, a light head for each candidate, candidates in competition.

Shapes: B utterances, T words, C candidates of all B in a row, L words of the utterance and
the three before it, D = 128. `grammar/scores/net.ts` computes the same.
"""

import math

import torch
import torch.nn as nn

D = 128
HEADS = 4
GRAMS = 1024
CHAR = 32
MARKS = 19
RELS = 22
PAIR = 64


class Net(nn.Module):
    def __init__(self, words, senses, features, out, forces, orders, labels, rows, dims=64, drop=0.25, wide=D):
        super().__init__()
        self.wide = D = wide
        self.word = nn.Embedding(words, 64, padding_idx=0)
        self.meaning = nn.Linear(dims, 64, bias=False)
        self.gram = nn.EmbeddingBag(GRAMS + 1, CHAR, mode="mean", padding_idx=GRAMS)
        self.sense = nn.Linear(senses, 64, bias=False)
        self.gap = nn.Embedding(4, 8)
        self.inp = nn.Linear(64 * 2 + 64 + CHAR + 8 + 6, D)
        self.enc = nn.LSTM(D, D // 2, 2, batch_first=True, bidirectional=True, dropout=drop)
        self.drop = nn.Dropout(drop)
        self.g = nn.Linear(features, 64)
        self.q = nn.Linear(2 * D + 64, D)
        self.k = nn.Linear(D, D)
        self.v = nn.Linear(D, D)
        self.rel_bias = nn.Linear(RELS, HEADS, bias=False)
        self.rel_value = nn.Linear(RELS, D, bias=False)
        self.mark_bias = nn.Linear(MARKS, HEADS, bias=False)
        self.mark_value = nn.Linear(MARKS, D, bias=False)
        self.o = nn.Linear(3 * D + 64, D)
        self.sq = nn.Linear(D, D)
        self.sk = nn.Linear(D, D)
        self.sv = nn.Linear(D, D)
        self.so = nn.Linear(D, D)
        self.pair = nn.Linear(2, HEADS, bias=False)
        self.f1 = nn.Linear(D, D)
        self.f2 = nn.Linear(D, D)
        self.out = nn.Linear(D, out)
        self.force = nn.Linear(D, forces)
        self.which = nn.Linear(D, 3)
        self.named = nn.Linear(D, 2 * labels)
        self.order = nn.Linear(D, orders)
        c, a, p = rows
        self.ch = nn.Linear(D, PAIR, bias=False)
        self.cz = nn.Linear(D, PAIR, bias=False)
        self.cf = nn.Linear(c, PAIR)
        self.co = nn.Linear(PAIR, 3)
        self.ah = nn.Linear(D, PAIR, bias=False)
        self.az = nn.Linear(D, PAIR, bias=False)
        self.af = nn.Linear(a, PAIR)
        self.ao = nn.Linear(PAIR, 1)
        self.ph = nn.Linear(D, PAIR, bias=False)
        self.pz = nn.Linear(D, PAIR, bias=False)
        self.pf = nn.Linear(p, PAIR)
        self.po = nn.Linear(PAIR, 3)

    def encode(self, word, vec, letters, sense, gap, num, length):
        """[S,T] words of S utterances, letters [S,T,CHAR], to [S,T,D]."""
        x = torch.cat([self.word(word), self.meaning(vec), letters, self.sense(sense), self.gap(gap), num], -1)
        x = torch.relu(self.inp(self.drop(x)))
        packed = nn.utils.rnn.pack_padded_sequence(
            self.drop(x), length.clamp(min=1).cpu(), batch_first=True, enforce_sorted=False
        )
        h, _ = self.enc(packed)
        return nn.utils.rnn.pad_packed_sequence(h, batch_first=True, total_length=word.shape[1])[0]

    def candidates(self, h, mask, of, slot, size, marks, rel, wc, wx, feature):
        """h [B,L,D]; of [C] utterance of each candidate; marks [C,L,MARKS]; rel [C,L]; wc, wx [C,L].

        Distances and marks are weighed before they are made as wide as a state: nothing here
        has the shape [C,L,D], which is what took nine tenths of the time of a step.
        """
        b, n, d = h.shape
        c = len(of)

        def pad(x):
            y = torch.zeros((b * size,) + x.shape[1:], device=h.device, dtype=x.dtype)
            return y.index_copy(0, slot, x).view((b, size) + x.shape[1:])

        def flat(y):
            return y.reshape((b * size,) + y.shape[2:])[slot]

        gg = torch.relu(self.g(feature))
        own = torch.cat([flat(torch.bmm(pad(wc), h)), flat(torch.bmm(pad(wx), h)), gg], -1)
        q = pad(self.q(own)).view(b, size, HEADS, d // HEADS).transpose(1, 2)
        k = self.k(h).view(b, n, HEADS, d // HEADS).permute(0, 2, 3, 1)
        v = self.v(h).view(b, n, HEADS, d // HEADS).transpose(1, 2)
        far = nn.functional.one_hot(rel, RELS).to(h.dtype)
        a = flat((q @ k / math.sqrt(d // HEADS)).transpose(1, 2))
        a = a + (self.rel_bias(far) + self.mark_bias(marks)).transpose(1, 2)
        a = a.masked_fill(~mask[of][:, None], -1e4).softmax(2)
        o = flat((pad(a).transpose(1, 2) @ v).transpose(1, 2))
        o = o + torch.einsum("chr,her->che", torch.bmm(a, far), self.rel_value.weight.view(HEADS, d // HEADS, RELS))
        o = o + torch.einsum("chm,hem->che", torch.bmm(a, marks), self.mark_value.weight.view(HEADS, d // HEADS, MARKS))
        return torch.relu(self.o(self.drop(torch.cat([own, o.reshape(c, d)], -1))))

    def compete(self, z, b, slot, size, wc, station):
        """Candidates of one utterance look at each other; b utterances; slot [C] place in the padded [B*size]."""
        dev = z.device

        def pad(x):
            y = torch.zeros((b * size,) + x.shape[1:], device=dev, dtype=x.dtype)
            y[slot] = x
            return y.view((b, size) + x.shape[1:])

        there = torch.zeros(b * size, dtype=torch.bool, device=dev)
        there[slot] = True
        there = there.view(b, size)
        y = pad(z)
        w = pad(wc)
        st = pad(station)
        same = torch.bmm(w, w.transpose(1, 2))
        stat = (st[:, :, None] == st[:, None, :]).float()
        q = self.sq(y).view(b, size, HEADS, -1)
        k = self.sk(y).view(b, size, HEADS, -1)
        v = self.sv(y).view(b, size, HEADS, -1)
        a = torch.einsum("bihe,bjhe->bijh", q, k) / math.sqrt(self.wide // HEADS)
        a = a + self.pair(torch.stack([same, stat], -1))
        a = a.masked_fill(~there[:, None, :, None], -1e4).softmax(2)
        o = torch.einsum("bijh,bjhe->bihe", a, v).reshape(b, size, self.wide)
        y = y + self.so(o)
        y = y + self.f2(torch.relu(self.f1(self.drop(y))))
        return y.view(b * size, self.wide)[slot]

    def conditions(self, hc, z, row):
        return self.co(torch.relu(self.ch(hc) + self.cz(z) + self.cf(row)))

    def aspects(self, ha, z, row):
        return self.ao(torch.relu(self.ah(ha) + self.az(z) + self.af(row)))[:, 0]

    def places(self, hp, z, row):
        """Meant, reported good, reported with a fault: for each place."""
        return self.po(torch.relu(self.ph(hp) + self.pz(z) + self.pf(row)))
