#!/usr/bin/env bash
# Four teachers on four accelerators, then four pupils that go on from a teacher and learn from all and the labels.
#   DATA=… VECTORS=… OUT=… TEACH=seconds PUPIL=seconds grammar/learn/distil.sh [options of train.py]
set -u
here=$(cd "$(dirname "$0")" && pwd)
bash "$here/many.sh" <<T
t1 0 --steps 9000 --limit $TEACH --seeds 11 --size 256 --rate 3e-3 $*
t2 1 --steps 9000 --limit $TEACH --seeds 12 --size 256 --rate 3e-3 $*
t3 2 --steps 9000 --limit $TEACH --seeds 13 --size 256 --rate 3e-3 --weigh 2 $*
t4 3 --steps 9000 --limit $TEACH --seeds 14 --size 384 --rate 4e-3 $*
T
[ "$PUPIL" -gt 0 ] || exit 0
nets=$(ls "$OUT"/t?/net-*.pt | paste -sd,)
bash "$here/many.sh" <<T
s1 0 --steps 9000 --limit $PUPIL --seeds 21 --size 256 --rate 1.5e-3 --start $OUT/t1/net-11.pt --teachers $nets $*
s2 1 --steps 9000 --limit $PUPIL --seeds 22 --size 256 --rate 1.5e-3 --start $OUT/t2/net-12.pt --teachers $nets $*
s3 2 --steps 9000 --limit $PUPIL --seeds 23 --size 256 --rate 1.5e-3 --start $OUT/t3/net-13.pt --teachers $nets --weigh 2 $*
s4 3 --steps 9000 --limit $PUPIL --seeds 24 --size 256 --rate 1.0e-3 --start $OUT/t4/net-14.pt --teachers $nets $*
T
