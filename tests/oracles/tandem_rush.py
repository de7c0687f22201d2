"""A tandem line under a rush, written with a general-purpose simulation library (SimPy).

    trays --> [unlimited] --> scrapping x3 --> [12] --> racking x2 --> [6] --> machine x1 --> clean

Trays arrive one by one, Poisson with a rate that changes each quarter hour. First come, first served
everywhere. A finished tray that finds no room stays with its worker, who stands blocked and begins nothing
(blocking after service). The room between two stations counts waiting trays only, not those being worked on.
The line starts empty and runs until the last tray is clean. All times are in minutes.

Nothing here is taken from this repository's own engine: the figures are an outside check on it.

    python tandem_rush.py                 simulate, write tandem_rush.json beside this file
    python tandem_rush.py --events        count the events of one run of each model, time nothing
    python tandem_rush.py --meals 20      seconds and events per meal, for a comparison of speed on one machine
"""

import argparse
import datetime
import json
import math
import pathlib
import platform
import statistics
import time

import numpy
import simpy

# The model, all of it. Invented figures of a plausible dish room.
QUARTER_MIN = 15.0
RATES_PER_MIN = (4, 6, 10, 16, 18, 14, 8, 4)  # one a quarter hour, 1,200 trays in all
SCRAPPERS, SCRAPPING_S = 3, 12.6  # people, exponential mean seconds a tray
ROOM_BEFORE_RACKING = 12
RACKERS, RACKING_S = 2, 8.1
ROOM_BEFORE_MACHINE = 6
MACHINES, WASHING_S = 1, 4.2

# The textbook queue of the speed comparison: mean service 1, so the rate is the use.
QUEUE_CUSTOMERS, QUEUE_RATE = 20_000, 0.8

SEED = 20_251_125
RUNS = 2_000
HORIZON_MIN = QUARTER_MIN * len(RATES_PER_MIN)


class Meal:
    """One meal's chance, drawn before the run: when each tray comes, how long it takes at each station."""

    def __init__(self, seed, run):
        chance = numpy.random.default_rng([seed, run])
        self.arrive = arrivals(chance)
        n = len(self.arrive)
        self.scrapping = (chance.standard_exponential(n) * (SCRAPPING_S / 60)).tolist()
        self.racking = (chance.standard_exponential(n) * (RACKING_S / 60)).tolist()
        self.washing = (chance.standard_exponential(n) * (WASHING_S / 60)).tolist()


def arrivals(chance):
    """Instants of a Poisson stream by inversion: unit-rate instants carried back through the integrated rate."""
    edges = numpy.arange(len(RATES_PER_MIN) + 1) * QUARTER_MIN
    integrated = numpy.concatenate(([0.0], numpy.cumsum(RATES_PER_MIN) * QUARTER_MIN))
    unit = numpy.zeros(0)
    reached = 0.0
    while reached <= integrated[-1]:
        block = reached + numpy.cumsum(chance.standard_exponential(256))
        unit, reached = numpy.concatenate((unit, block)), block[-1]
    return numpy.interp(unit[unit <= integrated[-1]], integrated, edges).tolist()


class Seen:
    """Instants of each tray, in order of arrival: `begun`, `ended` (work) and `left` (the post), per station."""

    def __init__(self, n):
        self.scrapping, self.racking, self.machine = ([[0.0] * n for _ in range(3)] for _ in range(3))


def come(env, instants, into):
    for who, at in enumerate(instants):
        yield env.timeout(at - env.now)
        into.put(who)


def work(env, source, lengths, room, seen):
    """One worker (or the machine): take, work, put down; `room` is None where the tray leaves the line."""
    begun, ended, left = seen
    while True:
        who = yield source.get()
        begun[who] = env.now
        yield env.timeout(lengths[who])
        ended[who] = env.now
        if room is not None:
            yield room.put(who)
        left[who] = env.now


def tandem(meal):
    """The line, ready to run, and where it writes what it sees."""
    env, seen = simpy.Environment(), Seen(len(meal.arrive))
    soiled = simpy.Store(env)
    scrapped = simpy.Store(env, capacity=ROOM_BEFORE_RACKING)
    racked = simpy.Store(env, capacity=ROOM_BEFORE_MACHINE)
    for _ in range(MACHINES):
        env.process(work(env, racked, meal.washing, None, seen.machine))
    for _ in range(RACKERS):
        env.process(work(env, scrapped, meal.racking, racked, seen.racking))
    for _ in range(SCRAPPERS):
        env.process(work(env, soiled, meal.scrapping, scrapped, seen.scrapping))
    env.process(come(env, meal.arrive, soiled))
    return env, seen


def measures(meal, seen):
    """The outputs of one run."""
    arrive = numpy.array(meal.arrive)
    n = len(arrive)
    begun, ended, left = (numpy.array(x) for x in seen.scrapping)
    wait = begun - arrive
    in_queue_till_horizon = numpy.minimum(begun, HORIZON_MIN) - arrive  # nobody arrives after the horizon
    held = numpy.array(seen.racking[2]) - numpy.array(seen.racking[1])
    clean = numpy.array(seen.machine[2])
    return {
        "trays": n,
        "mean_wait_min": wait.mean(),
        # the ceil(0.95 n)-th smallest, no interpolation
        "p95_wait_min": numpy.sort(wait)[math.ceil(0.95 * n) - 1],
        "longest_wait_min": wait.max(),
        "last_clean_min": clean.max(),
        "scrapping_blocked_worker_min": (left - ended).sum(),
        "racking_blocked_worker_min": held.sum(),
        "mean_time_in_system_min": (clean - arrive).mean(),
        "mean_waiting_till_horizon": in_queue_till_horizon.sum() / HORIZON_MIN,
        "machine_busy_min": sum(meal.washing),
    }


MEANING = {
    "trays": "trays that came",
    "mean_wait_min": "the run's mean wait from arrival to the start of scrapping",
    "p95_wait_min": "the ceil(0.95 n)-th smallest of the run's n waits before scrapping",
    "longest_wait_min": "the run's longest wait before scrapping",
    "last_clean_min": "minutes from the start until the last tray leaves the machine",
    "scrapping_blocked_worker_min": "worker-minutes of scrapping held up by want of room before racking, whole run",
    "racking_blocked_worker_min": "worker-minutes of racking held up by want of room before the machine, whole run",
    "mean_time_in_system_min": "the run's mean time from arrival until clean",
    "mean_waiting_till_horizon": "time average of trays waiting before scrapping over [0, 120) minutes",
    "machine_busy_min": "minutes the machine washes, whole run",
}


def simulate(runs, seed):
    rows = []
    for run in range(runs):
        meal = Meal(seed, run)
        env, seen = tandem(meal)
        env.run()
        rows.append(measures(meal, seen))
    return rows


def summary(rows):
    out = {}
    for name, meaning in MEANING.items():
        values = numpy.array([row[name] for row in rows], dtype=float)
        sd = values.std(ddof=1)
        out[name] = {
            "meaning": meaning,
            "mean": float(values.mean()),
            "sd_over_runs": float(sd),
            "standard_error": float(sd / math.sqrt(len(values))),
        }
    return out


def record(runs, seed):
    return {
        "what": "tandem line with a time-varying rush, simulated independently of this project's engine",
        "library": f"simpy {simpy.__version__}",
        "numpy": numpy.__version__,
        "python": platform.python_version(),
        "date": datetime.date.today().isoformat(),
        "generator": "numpy default_rng([seed, run]), run counted from 0",
        "seed": seed,
        "runs": runs,
        "parameters": {
            "quarter_min": QUARTER_MIN,
            "rates_per_min": list(RATES_PER_MIN),
            "scrappers": SCRAPPERS,
            "scrapping_mean_s": SCRAPPING_S,
            "room_before_racking": ROOM_BEFORE_RACKING,
            "rackers": RACKERS,
            "racking_mean_s": RACKING_S,
            "room_before_machine": ROOM_BEFORE_MACHINE,
            "machines": MACHINES,
            "washing_mean_s": WASHING_S,
            "times": "exponential at all three stations",
            "room": "waiting trays only, those in work not counted",
            "blocking": "after service",
            "order": "first come, first served",
            "horizon_min": HORIZON_MIN,
        },
        "measures": summary(simulate(runs, seed)),
    }


def textbook_queue(run, seed=SEED):
    """An M/M/1 queue, ready to run, with as many customers as a meal of the comparison has."""
    chance = numpy.random.default_rng([seed, run])
    instants = numpy.cumsum(chance.standard_exponential(QUEUE_CUSTOMERS) / QUEUE_RATE).tolist()
    lengths = chance.standard_exponential(QUEUE_CUSTOMERS).tolist()
    env, seen = simpy.Environment(), ([0.0] * QUEUE_CUSTOMERS, [0.0] * QUEUE_CUSTOMERS, [0.0] * QUEUE_CUSTOMERS)
    queue = simpy.Store(env)
    env.process(work(env, queue, lengths, None, seen))
    env.process(come(env, instants, queue))
    # an arrival and an end of service each
    return env, 2 * QUEUE_CUSTOMERS


def rush_meal(run, seed=SEED):
    meal = Meal(seed, run)
    env, _ = tandem(meal)
    # an arrival and three ends of work each
    return env, 4 * len(meal.arrive)


MODELS = (("mm1", textbook_queue), ("tandem", rush_meal))


def count_events():
    for name, build in MODELS:
        env, events = build(0)
        steps = 0
        while env.peek() < math.inf:
            env.step()
            steps += 1
        print(f"{name}: {events} events of the model (arrivals and ends of work), {steps} steps of the library")


def time_meals(meals):
    """Draws, building and running are timed; summing up is not. Run 0 warms up and is not counted."""
    for name, build in MODELS:
        seconds, events = [], []
        for run in range(meals + 1):
            begun = time.perf_counter()
            env, n = build(run)
            env.run()
            seconds.append(time.perf_counter() - begun)
            events.append(n)
        seconds, events = seconds[1:], events[1:]
        median, mean_events = statistics.median(seconds), statistics.fmean(events)
        print(
            f"{name}: {median:.6f} s a meal (median of {meals}; {min(seconds):.6f} to {max(seconds):.6f}), "
            f"{mean_events:.1f} events a meal, {1e9 * sum(seconds) / sum(events):.0f} ns an event"
        )


def positive(text):
    value = int(text)
    if value < 1:
        raise argparse.ArgumentTypeError("must be at least 1")
    return value


def main():
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    what = ask.add_mutually_exclusive_group()
    what.add_argument("--events", action="store_true", help="count the events of one run of each model")
    what.add_argument("--meals", type=positive, metavar="N", help="time N meals of each model")
    ask.add_argument("--runs", type=positive, default=RUNS)
    ask.add_argument("--seed", type=int, default=SEED)
    ask.add_argument("--out", type=pathlib.Path, default=pathlib.Path(__file__).with_suffix(".json"))
    how = ask.parse_args()
    if how.events:
        count_events()
    elif how.meals:
        time_meals(how.meals)
    else:
        if how.runs < 2:
            ask.error("--runs must be at least 2 for a standard error")
        found = record(how.runs, how.seed)
        how.out.write_text(json.dumps(found, indent=2) + "\n")
        for name, of in found["measures"].items():
            print(f"{name:30} {of['mean']:12.5f}  sd {of['sd_over_runs']:10.5f}  se {of['standard_error']:.5f}")


if __name__ == "__main__":
    main()
