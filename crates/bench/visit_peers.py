"""The six invented visits by OR-Tools CP-SAT, one worker, so many seconds of a processor each: visit_peers.py SECONDS FOLDER

One straightforward model: a circuit over the acts and over slots for changes of site states, intervals that do not
overlap, and literals for which slot's value an act falls under. It is a reference, not a verdict: several workers, or
another model, may do better. Prints one JSON object: what was found and proved of each visit, in half minutes.
"""

import json
import resource
import sys
import threading
from pathlib import Path

import ortools
from ortools.sat.python import cp_model

HORIZON = 1800
# How often a state may be changed: the least for its values, and two more.
SPARE_CHANGES = 2


class Visit:
    """The model of one visit."""

    def __init__(self, visit):
        self.visit = visit
        self.model = cp_model.CpModel()
        self.places = {place: index for index, place in enumerate(visit["places"])}
        self.start, self.end, self.nodes, self.slots = {}, {}, [], {}
        self.fresh = 0
        self.acts()
        self.changes()
        self.rules()
        self.waits()
        self.finish = self.circuit()
        self.model.minimize(self.finish)

    def literal(self):
        self.fresh += 1
        return self.model.new_bool_var(f"b{self.fresh}")

    def acts(self):
        for act in self.visit["acts"]:
            windows = act.get("windows") or [[0, HORIZON]]
            first, last = windows[0][0], min(windows[-1][1], HORIZON) - act["ticks"]
            start = self.model.new_int_var(first, last, act["id"])
            self.start[act["id"]], self.end[act["id"]] = start, start + act["ticks"]
            self.nodes.append((self.places[act["place"]], act["ticks"], None, start))

    def changes(self):
        model = self.model
        for state in self.visit["states"]:
            count = len(state["changes"]) + SPARE_CHANGES
            slots = []
            for number in range(count):
                options = []
                for change in state["changes"]:
                    used = self.literal()
                    start = model.new_int_var(0, HORIZON - change["ticks"], "")
                    options.append((change, used, start))
                    self.nodes.append((self.places[change["place"]], change["ticks"], used, start))
                used = self.literal()
                begins, ends = model.new_int_var(0, HORIZON, ""), model.new_int_var(0, HORIZON, "")
                model.add(sum(option[1] for option in options) == used)
                model.add(begins == HORIZON).only_enforce_if(~used)
                model.add(ends == HORIZON).only_enforce_if(~used)
                for change, chosen, start in options:
                    model.add(begins == start).only_enforce_if(chosen)
                    model.add(ends == start + change["ticks"]).only_enforce_if(chosen)
                if slots:
                    before = slots[-1]
                    model.add_implication(used, before["used"])
                    model.add(before["ends"] <= begins).only_enforce_if(used)
                    for change, chosen, _ in options:
                        for other, earlier, _ in before["options"]:
                            if change["to"] == other["to"]:
                                model.add_bool_or([~chosen, ~earlier])
                elif state["found"]:
                    for change, chosen, _ in options:
                        if change["to"] == state["found"]:
                            model.add(chosen == 0)
                slots.append({"options": options, "used": used, "begins": begins, "ends": ends})
            self.slots[state["id"]] = slots
            # The last change that is used leaves the state as it should be.
            for number, slot in enumerate(slots):
                later = [slots[number + 1]["used"]] if number + 1 < count else []
                right = [chosen for change, chosen, _ in slot["options"] if change["to"] == state["leave"]]
                model.add_bool_or(right + later + [~slot["used"]])

    def holds(self, state, values, start, end, only_if=None):
        """The state has one of the values all the time from start to end."""
        found = next(one["found"] for one in self.visit["states"] if one["id"] == state)
        slots, under = self.slots[state], []
        if found in values:
            first = self.literal()
            self.model.add(end <= slots[0]["begins"]).only_enforce_if(first)
            under.append(first)
        for number, slot in enumerate(slots):
            right = [chosen for change, chosen, _ in slot["options"] if change["to"] in values]
            if right:
                it = self.literal()
                self.model.add_bool_or(right + [~it])
                self.model.add(start >= slot["ends"]).only_enforce_if(it)
                if number + 1 < len(slots):
                    self.model.add(end <= slots[number + 1]["begins"]).only_enforce_if(it)
                under.append(it)
        self.model.add_bool_or(under + ([~only_if] if only_if is not None else []))

    def rules(self):
        for act in self.visit["acts"]:
            for state, values in act.get("needs", {}).items():
                self.holds(state, values, self.start[act["id"]], self.end[act["id"]])
        for slots in self.slots.values():
            for slot in slots:
                for change, chosen, start in slot["options"]:
                    for state, values in change.get("needs", {}).items():
                        self.holds(state, values, start, start + change["ticks"], chosen)
                    for guard in change.get("after", []):
                        self.model.add(self.end[guard] <= start).only_enforce_if(chosen)
        for first, then in self.visit["orders"]:
            self.model.add(self.end[first] <= self.start[then])

    def apart(self, one_end, other_start, other_end, one_start):
        """One thing ends before the other starts, or the other way round."""
        first = self.literal()
        self.model.add(one_end <= other_start).only_enforce_if(first)
        self.model.add(other_end <= one_start).only_enforce_if(~first)

    def waits(self):
        waits = self.visit["waits"]
        for number, wait in enumerate(waits):
            begins, ends = self.end[wait["opens"]], self.start[wait["closes"]]
            self.model.add(ends >= begins + wait["at_least"])
            if "at_most" in wait:
                self.model.add(ends <= begins + wait["at_most"])
            for state, values in wait.get("keeps", {}).items():
                self.holds(state, values, begins, begins)
                for slot in self.slots[state]:
                    for change, chosen, start in slot["options"]:
                        if change["to"] not in values:
                            before = self.literal()
                            self.model.add(start + change["ticks"] <= begins).only_enforce_if([before, chosen])
                            self.model.add(start >= ends).only_enforce_if([~before, chosen])
            for act in self.visit["acts"]:
                stirs = set(act.get("stirs", [])) & set(wait.get("quiet", []))
                if stirs and act["id"] not in (wait["opens"], wait["closes"]):
                    self.apart(self.end[act["id"]], begins, ends, self.start[act["id"]])
            for other in waits[:number]:
                if set(wait.get("claims", [])) & set(other.get("claims", [])):
                    self.apart(
                        self.end[wait["closes"]],
                        self.start[other["opens"]],
                        self.end[other["closes"]],
                        self.start[wait["opens"]],
                    )

    def circuit(self):
        model, walks = self.model, self.visit["walks"]
        begin, home = self.places[self.visit["start"]], self.places[self.visit["end"]]
        finish, arcs, walked = model.new_int_var(0, HORIZON, "finish"), [], []
        for one, (place, ticks, used, start) in enumerate(self.nodes, 1):
            first, last = self.literal(), self.literal()
            arcs += [(0, one, first), (one, 0, last)]
            model.add(start >= walks[begin][place]).only_enforce_if(first)
            walked += [(walks[begin][place], first), (walks[place][home], last)]
            back = model.add(finish >= start + ticks + walks[place][home])
            if used is not None:
                back.only_enforce_if(used)
                arcs.append((one, one, ~used))
            for other, (next_place, _, _, next_start) in enumerate(self.nodes, 1):
                if one != other:
                    arc = self.literal()
                    arcs.append((one, other, arc))
                    model.add(next_start >= start + ticks + walks[place][next_place]).only_enforce_if(arc)
                    walked.append((walks[place][next_place], arc))
        model.add_circuit(arcs)
        spans = []
        for place, ticks, used, start in self.nodes:
            if used is None:
                spans.append(model.new_interval_var(start, ticks, start + ticks, ""))
            else:
                spans.append(model.new_optional_interval_var(start, ticks, start + ticks, used, ""))
        model.add_no_overlap(spans)
        # What the finish is made of, as one sum: it lifts the bound.
        work = sum(ticks if used is None else ticks * used for _, ticks, used, _ in self.nodes)
        model.add(finish >= work + sum(walk * arc for walk, arc in walked if walk))
        return finish


def processor():
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


def solve(solver, model, seconds):
    """Solves until this process has been on a processor for so long: a busy machine takes nothing from the solver."""
    over, begun = threading.Event(), processor()

    def watch():
        while not over.wait(0.1):
            if processor() - begun >= seconds:
                solver.stop_search()

    watcher = threading.Thread(target=watch)
    watcher.start()
    try:
        return solver.solve(model)
    finally:
        over.set()
        watcher.join()


def main():
    seconds, folder = float(sys.argv[1]), Path(sys.argv[2])
    answers = {}
    for file in sorted(folder.glob("*.json")):
        visit = json.loads(file.read_text())
        model = Visit(visit)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        before = processor()
        status = solve(solver, model.model, seconds)
        found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
        answers[visit["name"]] = {
            "version": ortools.__version__,
            "finish": round(solver.objective_value) if found else None,
            "bound": round(solver.best_objective_bound),
            "seconds": round(processor() - before, 1),
        }
    print(json.dumps(answers))


if __name__ == "__main__":
    main()
