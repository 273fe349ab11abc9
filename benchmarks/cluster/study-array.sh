#!/bin/bash
# A study as an array job of a Slurm cluster: each task runs one shard of the rows and writes a file of its own.
#
#   sbatch study-array.sh                                      runs the shards
#   sbatch --dependency=afterok:JOB study-array.sh merge       puts their results together afterwards
#
# A task that was ended early (time limit, pre-emption) is submitted again as it is: rows that are there are not made
# again. Times are comparable only between rows of like machines: ask for one kind of node, and for whole cores.
#SBATCH --job-name=tackwright-study
#SBATCH --array=1-8
#SBATCH --cpus-per-task=1
#SBATCH --mem=2G
#SBATCH --time=02:00:00
#SBATCH --signal=B:INT@60
set -euo pipefail

# Where the instances and the results are: a folder that all nodes see.
STUDY="${STUDY:-$PWD}"
# The same number for every task, also when single tasks are submitted again.
SHARDS=8

if [ "${1:-}" = merge ]; then
  exec tackwright study merge "$STUDY"/results/shard-*.csv --out "$STUDY/results/all.csv"
fi

mkdir -p "$STUDY/results"
# In the background with wait, so that the interrupt a minute before the time limit gets through: the running row is
# then written, and no further one begun.
tackwright study "$STUDY/instances" \
  --solvers beam,best-first,large-neighbourhood --seeds 1-10 --seconds 60 --memory 1024 --threads 1 \
  --shard "$SLURM_ARRAY_TASK_ID/$SHARDS" \
  --out "$STUDY/results/shard-$SLURM_ARRAY_TASK_ID.csv" &
STUDY_PROCESS=$!
trap 'kill -INT "$STUDY_PROCESS"; wait "$STUDY_PROCESS"' INT
wait "$STUDY_PROCESS"
