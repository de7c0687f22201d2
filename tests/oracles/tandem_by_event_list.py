"""Checks tandem_rush.py: the same meals replayed by a bare event list, tray by tray.

Shares the drawn times with it, nothing else: no library, no stores, no worker processes. Levels are integrated as
they change, so the time average and the busy minutes are reached another way too. Exits 1 when any figure differs.

    python tandem_by_event_list.py [RUNS]
"""

import heapq
import sys
from collections import deque

import numpy

import tandem_rush as rush

TOLERANCE_MIN = 1e-6


def replay(meal):
    """Measures of one meal under the names of `tandem_rush.measures`."""
    lengths = (meal.scrapping, meal.racking, meal.washing)
    free = [rush.SCRAPPERS, rush.RACKERS, rush.MACHINES]
    room = (None, rush.ROOM_BEFORE_RACKING, rush.ROOM_BEFORE_MACHINE)
    waiting = (deque(), deque(), deque())
    stuck = (deque(), deque(), deque())  # finished trays held by their workers, per station
    pending = [(at, 0, who, -1) for who, at in enumerate(meal.arrive)]  # -1: comes; else the station that ends
    heapq.heapify(pending)
    waits, stays = [0.0] * len(meal.arrive), []
    blocked, queue_area, busy, now = [0.0, 0.0], 0.0, 0.0, 0.0
    serial = 0

    def begin_what_can():
        nonlocal serial
        moved = True
        while moved:
            moved = False
            for s in (2, 1, 0):
                while s < 2 and stuck[s] and len(waiting[s + 1]) < room[s + 1]:
                    waiting[s + 1].append(stuck[s].popleft())
                    free[s] += 1
                    moved = True
                while free[s] and waiting[s]:
                    who = waiting[s].popleft()
                    free[s] -= 1
                    serial += 1
                    heapq.heappush(pending, (now + lengths[s][who], serial, who, s))
                    if s == 0:
                        waits[who] = now - meal.arrive[who]
                    moved = True

    while pending:
        at, _, who, ends = heapq.heappop(pending)
        passed = at - now
        blocked[0] += len(stuck[0]) * passed
        blocked[1] += len(stuck[1]) * passed
        busy += (rush.MACHINES - free[2]) * passed
        queue_area += len(waiting[0]) * max(0.0, min(at, rush.HORIZON_MIN) - min(now, rush.HORIZON_MIN))
        now = at
        if ends < 0:
            waiting[0].append(who)
        elif ends == 2:
            free[2] += 1
            stays.append(now - meal.arrive[who])
        else:
            stuck[ends].append(who)
        begin_what_can()

    ranked = sorted(waits)
    n = len(ranked)
    return {
        "trays": len(stays),
        "mean_wait_min": sum(waits) / n,
        "p95_wait_min": ranked[-(-95 * n // 100) - 1],
        "longest_wait_min": ranked[-1],
        "last_clean_min": now,
        "scrapping_blocked_worker_min": blocked[0],
        "racking_blocked_worker_min": blocked[1],
        "mean_time_in_system_min": sum(stays) / n,
        "mean_waiting_till_horizon": queue_area / rush.HORIZON_MIN,
        "machine_busy_min": busy,
    }


def main():
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 50
    worst = dict.fromkeys(rush.MEANING, 0.0)
    for run in range(runs):
        meal = rush.Meal(rush.SEED, run)
        env, seen = rush.tandem(meal)
        env.run()
        theirs, ours = rush.measures(meal, seen), replay(meal)
        for name in worst:
            worst[name] = float(numpy.maximum(worst[name], abs(theirs[name] - ours[name])))
    for name, gap in worst.items():
        print(f"{name:30} largest difference over {runs} runs {gap:.2e}")
    # written so that a NaN fails too
    if not all(gap < TOLERANCE_MIN for gap in worst.values()):
        sys.exit("the two models differ")


if __name__ == "__main__":
    main()
