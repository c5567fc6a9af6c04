"""Plans of batches made ahead by other processes, so that the accelerator never waits for them."""

import multiprocessing
import queue
import threading

import numpy as np
import torch

from data import Plan, Sent

# Batches of about one length are made out of so many at a time.
CHUNK = 16


def orders(learn, size, length, seed):
    """Utterances of one batch after the other, for ever: the same in every process."""
    rnd = np.random.RandomState(seed)
    while True:
        perm = rnd.permutation(learn)
        out = []
        for a in range(0, len(perm), size * CHUNK):
            chunk = perm[a : a + size * CHUNK]
            chunk = chunk[np.argsort(length[chunk] + rnd.rand(len(chunk)), kind="stable")]
            out += [chunk[i : i + size] for i in range(0, len(chunk), size)]
        rnd.shuffle(out)
        yield from out


def work(pipe, d, learn, size, length, seed, alone, k, workers):
    """Every `workers`th batch, from the `k`th on. Nothing here may touch the accelerator."""
    torch.set_num_threads(1)
    for n, us in enumerate(orders(learn, size, length, seed)):
        if n % workers != k:
            continue
        rnd = np.random.RandomState((seed, n % 2**32))
        plan = Plan(d, us, d.whole[us] & (rnd.rand(len(us)) < alone))
        shapes, flat = plan.packed()
        try:
            pipe.send(Sent.head(plan, shapes))
            pipe.send_bytes(flat)
        except (BrokenPipeError, ConnectionResetError):
            return


def planned(d, learn, size, length, seed, alone, workers):
    """A queue of `Sent`, in the same order whatever `workers` is."""
    context = multiprocessing.get_context("fork")
    pipes = []
    for k in range(workers):
        here, there = context.Pipe(duplex=False)
        context.Process(target=work, args=(there, d, learn, size, length, seed, alone, k, workers), daemon=True).start()
        there.close()
        pipes.append(here)
    out = queue.Queue(6)

    def fetch():
        while True:
            for pipe in pipes:
                head = pipe.recv()
                flat = torch.frombuffer(bytearray(pipe.recv_bytes()), dtype=torch.int32)
                out.put(Sent(head, flat.pin_memory() if d.dev == "cuda" else flat))

    threading.Thread(target=fetch, daemon=True).start()
    return out
