#!/usr/bin/env bash
# Four teachers on two accelerators, then two pupils that learn from them and from the labels.
#   DATA=… VECTORS=… OUT=… TEACH=seconds PUPIL=seconds grammar/learn/distil.sh [options of train.py]
set -u
here=$(cd "$(dirname "$0")" && pwd)
bash "$here/many.sh" <<T
t1 0 --steps 5000 --limit $TEACH --seeds 11 $*
t2 0 --steps 5000 --limit $TEACH --seeds 12 $*
t3 1 --steps 5000 --limit $TEACH --seeds 13 $*
t4 1 --steps 5000 --limit $TEACH --seeds 14 --weigh 2 $*
T
nets=$(ls "$OUT"/t?/net-*.pt | paste -sd,)
bash "$here/many.sh" <<T
s1 0 --steps 7000 --limit $PUPIL --seeds 21 --teachers $nets $*
s2 1 --steps 7000 --limit $PUPIL --seeds 22 --teachers $nets --weigh 2 $*
T
