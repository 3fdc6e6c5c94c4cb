#!/usr/bin/env python3
"""How long many jobs would take on many cores, and what breaks first: a queue that starts one task at a time, cores that
plan one job after the other, and a share that writes one thing at a time, played through event by event with figures
that were measured on one machine. cli/cluster/README.md shows what it says.

    python3 tests/cluster/growth.py [RESULTS.jsonl ...]     times of jobs from these results, else those measured"""
import argparse
import heapq
import json
import random
import statistics

# Measured: processor time of a plan of each of sample-models/fleet, by tenths of the 40 jobs.
JOB_SECONDS = (0.38, 0.41, 0.43, 0.47, 0.48, 0.51, 0.52, 0.54, 0.57, 0.61)
# Slurm, one machine of two cores: 500 empty tasks took 586 s.
SECONDS_A_START = 586 / 500


def played(jobs, cores, minutes, share_seconds, job_seconds, start_seconds=SECONDS_A_START):
    """One run. Slices of so many minutes each; a job's result is on the share `share_seconds` after its turn came there.

    Returns the seconds from first to last, and how busy queue, cores and share were (parts of 1)."""
    draw = random.Random(1)
    mean = statistics.fmean(job_seconds)
    slices = max(1, min(jobs, round(jobs * mean / (60 * minutes))))
    left = [jobs // slices + (1 if k < jobs % slices else 0) for k in range(slices)]
    queue_free = share_free = planned = shared = 0.0
    waiting, idle, events, end = slices, cores, [], 0.0

    def start_more(now):
        nonlocal queue_free, waiting, idle
        while waiting and idle:
            waiting, idle = waiting - 1, idle - 1
            queue_free = max(queue_free, now) + start_seconds
            heapq.heappush(events, (queue_free + draw.choice(job_seconds), waiting))

    start_more(0.0)
    while events:
        now, task = heapq.heappop(events)  # a plan is made; its result waits for its turn
        share_free = max(share_free, now) + share_seconds
        shared += share_seconds
        end = max(end, share_free)
        left[task] -= 1
        if left[task]:
            seconds = draw.choice(job_seconds)
            heapq.heappush(events, (share_free + seconds, task))
        else:
            idle += 1
            start_more(share_free)
    planned = jobs * mean
    return {"seconds": end, "slices": slices, "queue": slices * start_seconds / end,
            "cores": planned / (cores * end), "share": shared / end}


def times_in(files):
    times = []
    for name in files:
        with open(name, encoding="utf-8") as lines:
            times += [line["seconds"] for line in map(json.loads, lines) if line["status"] == 0]
    return times


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("results", nargs="*")
    parser.add_argument("--jobs", type=int, default=100_000)
    parser.add_argument("--cores", type=int, nargs="*", default=[2, 100, 1000])
    parser.add_argument("--minutes", type=float, nargs="*", default=[0.5, 2, 5, 20])
    parser.add_argument("--line-seconds", type=float, default=2e-5,
                        help="the share takes for one result line; measured on a disk of the machine's own: 0.00002")
    parser.add_argument("--folder-seconds", type=float, default=0.16,
                        help="and for a plan's folder, on the disk for certain; measured likewise, 24 files of 7 MB: 0.16")
    words = parser.parse_args()
    job_seconds = times_in(words.results) or JOB_SECONDS
    print(f"{words.jobs} jobs of {statistics.fmean(job_seconds):.2f} s\n")
    print("| cores | minutes a slice | slices | lean: min | cores busy | share | folders: min | cores busy | share |")
    print("|---|---|---|---|---|---|---|---|---|")
    for cores in words.cores:
        for minutes in words.minutes:
            row = [f"{cores}", f"{minutes:g}"]
            for share in (words.line_seconds, words.folder_seconds):
                run = played(words.jobs, cores, minutes, share, job_seconds)
                if len(row) == 2:
                    row.append(f"{run['slices']}")
                row += [f"{run['seconds'] / 60:.1f}", f"{100 * run['cores']:.0f} %", f"{100 * run['share']:.0f} %"]
            print("| " + " | ".join(row) + " |")


if __name__ == "__main__":
    main()
