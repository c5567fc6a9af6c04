#!/usr/bin/env bash
# Several trainings side by side on the machine's accelerators: "NAME GPU OPTIONS" a line on standard input.
set -u
here=$(cd "$(dirname "$0")" && pwd)
while read -r name gpu options; do
  [ -n "$name" ] || continue
  CUDA_VISIBLE_DEVICES=$gpu OMP_NUM_THREADS=3 PYTHONUNBUFFERED=1 \
    python3 "$here/train.py" "$DATA" "$VECTORS" "$OUT/$name" $options 2>&1 | grep -E "^(seed|[0-9]+ to learn|Traceback|.*Error)" | sed "s/^/$name: /" &
done
wait
