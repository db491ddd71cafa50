#!/usr/bin/env python3
"""Make random ordering problems and solve them with an outside integer-programming solver.

Usage: solve.py [COUNT [FEWEST MOST]] > FILE      (default: 200 problems of 10 to 20 jobs)

instances.json is the output of "solve.py", larger.json that of "solve.py 30 25 40".

Needs python3 and cbc (Debian package coinor-cbc). Nothing here is shared with
the Go code. A problem is sent to the solver as a linear-ordering programme:
x[i,j] = 1 if job i is done before job j, x[i,j] + x[j,i] = 1, no cycle of
three, minimise sum of minutes[i] * weight[j] * x[i,j] + sum of
minutes[j] * weight[j]. Pairs fixed by the precedence are constants; only the
cycles with at least two free pairs stay. Minutes and weights are whole
numbers, so that the optimal value is a whole number, and a problem is stored
only if the solver reports a proven optimum. The stored order is checked here
against the precedence, and its cost against the solver's value.

All numbers are invented by a seeded generator (seed 1972).
"""
import json, random, re, subprocess, sys, tempfile, os

LIMIT = 20  # seconds a problem


def problem(rng, number, fewest, most):
    n = rng.randint(fewest, most)
    kind = ("sparse", "dense", "layers", "tree with shortcuts", "two layers")[number % 5]
    after = [set() for _ in range(n)]
    if kind == "layers":
        width = rng.randint(2, 5)
        for j in range(width, n):
            layer = (j // width - 1) * width
            for i in range(layer, min(layer + width, n)):
                if rng.random() < 0.45:
                    after[j].add(i)
    elif kind == "tree with shortcuts":
        for j in range(1, n):
            after[j].add(rng.randrange(max(0, j - 5), j))
            if rng.random() < 0.3:
                after[j].add(rng.randrange(0, j))
    elif kind == "two layers":
        # Minutes above, weight below: the hard case.
        for j in range(n // 2, n):
            after[j] = set(rng.sample(range(n // 2), 2))
    else:
        p = 0.12 if kind == "sparse" else 0.3
        for j in range(n):
            for i in range(j):
                if rng.random() < p:
                    after[j].add(i)
    name = list(range(n))
    rng.shuffle(name)
    jobs = [None] * n
    for j in range(n):
        jobs[name[j]] = {
            "minutes": rng.choice([0, 1, 2, 3, 5, 8, 10, 15, 20, 30, 45]),
            "weight": rng.choice([0, 0, 1, 2, 5, 10, 20, 50, 100, 300]),
            "after": sorted(name[i] for i in after[j]),
        }
        if kind == "two layers":
            jobs[name[j]]["weight" if j < n // 2 else "minutes"] = 0
    return kind, jobs


def closure(jobs):
    n = len(jobs)
    above = [set() for _ in range(n)]
    changed = True
    while changed:
        changed = False
        for j in range(n):
            new = set(jobs[j]["after"])
            for i in jobs[j]["after"]:
                new |= above[i]
            if new != above[j]:
                above[j], changed = new, True
    return above


def programme(jobs):
    """The text of the programme in LP format, its constant, and the variables."""
    n = len(jobs)
    above = closure(jobs)
    p = [j["minutes"] for j in jobs]
    w = [j["weight"] for j in jobs]
    constant = sum(a * b for a, b in zip(p, w))
    cost = {}

    def term(i, j):
        """x[i,j] as (constant, coefficient, variable)."""
        if i in above[j]:
            return 1, 0, None
        if j in above[i]:
            return 0, 0, None
        if i < j:
            return 0, 1, f"x{i}_{j}"
        return 1, -1, f"x{j}_{i}"

    for i in range(n):
        for j in range(n):
            if i != j:
                c, k, v = term(i, j)
                constant += c * p[i] * w[j]
                if v:
                    cost[v] = cost.get(v, 0) + k * p[i] * w[j]
    rows = []
    for a in range(n):
        for b in range(a + 1, n):
            for c in range(n):
                if c in (a, b) or c < a:
                    continue
                # x[a,b] + x[b,c] + x[c,a] <= 2 for each way round a triple
                total, parts = 0, []
                for i, j in ((a, b), (b, c), (c, a)):
                    k0, k, v = term(i, j)
                    total += k0
                    if v:
                        parts.append((k, v))
                if len(parts) >= 2:
                    rows.append((parts, 2 - total))
    lines = ["Minimize", " cost: " + ("".join(f" {'+' if k >= 0 else '-'} {abs(k)} {v}\n" for v, k in sorted(cost.items())) or "0 none")]
    lines.append("Subject To")
    for r, (parts, bound) in enumerate(rows):
        lines.append(f" c{r}: " + " ".join(f"{'+' if k > 0 else '-'} {v}" for k, v in parts) + f" <= {bound}")
    if not rows:
        lines.append(" c0: none <= 1")
    lines += ["Binary", *(f" {v}" for v in sorted(cost)), "End"]
    return "\n".join(lines) + "\n", constant, cost


def solve(jobs):
    text, constant, cost = programme(jobs)
    with tempfile.TemporaryDirectory() as d:
        lp, sol = os.path.join(d, "p.lp"), os.path.join(d, "p.sol")
        with open(lp, "w") as f:
            f.write(text)
        subprocess.run(["cbc", lp, "ratio", "0", "allow", "0", "sec", str(LIMIT), "solve", "solution", sol],
                       check=True, capture_output=True)
        with open(sol) as f:
            lines = f.read().splitlines()
    if not lines or not lines[0].startswith("Optimal"):
        return None
    on = set()
    for line in lines[1:]:
        m = re.match(r"\s*\d+\s+(x\d+_\d+)\s+(\S+)", line)
        if m and float(m[2]) > 0.5:
            on.add(m[1])
    value = constant + sum(k for v, k in cost.items() if v in on)
    # Read the order off the variables and price it anew.
    n = len(jobs)
    above = closure(jobs)

    def before(i, j):
        if i in above[j]:
            return True
        if j in above[i]:
            return False
        return f"x{i}_{j}" in on if i < j else f"x{j}_{i}" not in on

    order = sorted(range(n), key=lambda j: sum(before(i, j) for i in range(n) if i != j))
    place = {j: k for k, j in enumerate(order)}
    assert all(place[i] < place[j] for j in range(n) for i in jobs[j]["after"])
    t = c = 0
    for j in order:
        t += jobs[j]["minutes"]
        c += t * jobs[j]["weight"]
    assert c == value, (c, value)
    reported = float(re.search(r"objective value\s+(\S+)", lines[0])[1])
    assert abs(reported + constant - value) < 0.5, (reported + constant, value)
    return value


def main():
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    version = re.search(r"Version:\s*(\S+)", subprocess.run(["cbc", "-quit"], capture_output=True, text=True).stdout)[1]
    fewest, most = (int(a) for a in sys.argv[2:4]) if len(sys.argv) > 3 else (10, 20)
    rng = random.Random(1972)
    out, number, unsolved = [], 0, 0
    while len(out) < count:
        kind, jobs = problem(rng, number, fewest, most)
        number += 1
        best = solve(jobs)
        if best is None:
            unsolved += 1
            print(f"problem {number}: no proven optimum in {LIMIT} s, left out", file=sys.stderr)
            continue
        out.append({"kind": kind, "optimum": best, "jobs": jobs})
        print(f"{len(out)}: {kind}, {len(jobs)} jobs, optimum {best}", file=sys.stderr)
    head = {
        "source": "random problems by solve.py, seed 1972; numbers invented",
        "solver": f"cbc {version} (Debian coinor-cbc), linear-ordering programme, gap 0, at most {LIMIT} s a problem",
        "left_out": unsolved,
    }
    print(json.dumps(head)[:-1] + ', "instances": [')
    print(",\n".join(json.dumps(i, separators=(",", ":")) for i in out))
    print("]}")


if __name__ == "__main__":
    main()
