#!/usr/bin/env bash
# Four teachers side by side, one accelerator each where there are so many: the first goes on from the net before,
# the others are wider and begin from nothing. Then four pupils that go on from the first and learn from all four and
# the labels; mean.py makes one net of them.
#   DATA=… VECTORS=… OUT=… START=net.pt TEACH=seconds [GPUS=4] grammar/learn/distil.sh      the teachers
#   DATA=… VECTORS=… OUT=… TEACHERS=folder PUPIL=seconds [GPUS=4] grammar/learn/distil.sh   the pupils
set -u
here=$(cd "$(dirname "$0")" && pwd)
gpus=${GPUS:-4}
all="--steps 900000 --size 2048 --workers ${WORKERS:-10} --weigh 2"
if [ "${TEACH:-0}" -gt 0 ]; then
  bash "$here/many.sh" <<T
t1 0 $all --limit $TEACH --seeds 11 --rate 3e-3 --warm 300 --drop 0.2 --start $START
t2 $((1 % gpus)) $all --limit $TEACH --seeds 12 --rate 3e-3 --warm 300 --drop 0.3 --wide 256 --words $START
t3 $((2 % gpus)) $all --limit $TEACH --seeds 13 --rate 2.5e-3 --warm 300 --drop 0.35 --wide 256 --words $START
t4 $((3 % gpus)) $all --limit $TEACH --seeds 14 --rate 2e-3 --warm 300 --drop 0.4 --wide 384 --words $START
T
fi
if [ "${PUPIL:-0}" -gt 0 ]; then
  nets=$(ls "$TEACHERS"/t?/net-*.pt | paste -sd,)
  all="$all --limit $PUPIL --start $TEACHERS/t1/net-11.pt --teachers $nets"
  bash "$here/many.sh" <<T
s1 0 $all --seeds 21 --rate 2e-3 --drop 0.15
s2 $((1 % gpus)) $all --seeds 22 --rate 2e-3 --drop 0.2
s3 $((2 % gpus)) $all --seeds 23 --rate 2e-3 --drop 0.2
s4 $((3 % gpus)) $all --seeds 24 --rate 2e-3 --drop 0.25
T
fi
