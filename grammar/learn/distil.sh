#!/usr/bin/env bash
# Three teachers side by side, two of them twice as wide, the other from the net before where there is one;
# then two pupils that go on from that one and learn from all three and the labels.
#   DATA=… VECTORS=… OUT=… TEACH=seconds [START=net.pt] [SECOND=1] grammar/learn/distil.sh      the teachers
#   DATA=… VECTORS=… OUT=… TEACHERS=folder PUPIL=seconds [SECOND=1] grammar/learn/distil.sh     the pupils
# SECOND is the second accelerator, where there are two.
set -u
here=$(cd "$(dirname "$0")" && pwd)
second=${SECOND:-0}
if [ "${TEACH:-0}" -gt 0 ]; then
  bash "$here/many.sh" <<T
t1 0 --steps 900000 --limit $TEACH --seeds 11 --size 256 --rate 2.5e-3 --drop 0.2 ${START:+--start $START} $*
t2 $second --steps 900000 --limit $TEACH --seeds 12 --size 256 --rate 2.5e-3 --drop 0.3 --wide 256 $*
t3 0 --steps 900000 --limit $TEACH --seeds 13 --size 256 --rate 2.5e-3 --drop 0.35 --wide 256 --weigh 2 $*
T
fi
if [ "${PUPIL:-0}" -gt 0 ]; then
  nets=$(ls "$TEACHERS"/t?/net-*.pt | paste -sd,)
  bash "$here/many.sh" <<T
s1 0 --steps 900000 --limit $PUPIL --seeds 21 --size 256 --rate 1.5e-3 --drop 0.2 --start $TEACHERS/t1/net-11.pt --teachers $nets $*
s2 $second --steps 900000 --limit $PUPIL --seeds 22 --size 256 --rate 2e-3 --drop 0.25 --weigh 2 --start $TEACHERS/t1/net-11.pt --teachers $nets $*
T
fi
