"""The posterior of a bin, a second way.

Reads from standard input a bin as JSON (file, handbook records, cue tables, what the weighings say) and
writes the expected share of every material in every lot, with its Monte Carlo error. It follows
docs/method.md, (response 1) to (triage 4), and shares no code with the program it is compared with: all
that the program puts on grids, scenarios or sets of points is drawn here, afresh, from continuous laws,
and no chain is run. Each draw is one possible world: errors of baths, thermometer and air, products of
the snippets and of every lot, make-up of every lot. A world counts by the probability of the readings.

Needs numpy and scipy (Debian: python3-numpy, python3-scipy).
"""
import json
import sys
import time

import numpy as np
from scipy.special import log_ndtr, ndtr

PIECE, HOVER, FINGER, AIR, HABIT, SLIPS = 0.003, 0.003, 2.0, 0.5, 0.7, 0.8
MEAN_AIR = {"as-is": 0.020, "cut": 0.006, "flake": 0.004}
PURE = {False: 0.95, None: 0.8, True: 0.03}
COLOURS = "white black grey gray red blue green yellow orange purple violet pink brown natural clear silver gold beige".split()


def lighter(x, d, sd, a):
    """(response 1): the share of pieces of product density d that are less dense than x."""
    z, r = (d - x) / sd, sd / (a * d)
    return 1 - ndtr(z) + np.exp(r * r / 2 - r * z + log_ndtr(z - r))


def floor(p, wrong):
    return wrong + (1 - 2 * wrong) * np.clip(p, 0, 1)


class Bin:
    """The bin as it is given, in the words of the model."""

    def __init__(self, data, rng, n, pile):
        self.data, self.rng, self.n, self.pile = data, rng, n, pile
        self.symbols = [c["Symbol"] for c in data["Candidates"]]
        self.baths = {}
        for t in data["Tests"]:
            self.bath(t)
        for s in data["Splits"]:
            self.bath(s)
        self.rows = {s["Kind"]: {m: np.array(r) for m, r in s["Rows"].items()} for s in data["Sheets"]}
        self.outcomes = {s["Kind"]: s["Outcomes"] for s in data["Sheets"]}
        self.learn()

    def bath(self, t):
        """The liquid of a test: its name, after noting its density and standard deviation."""
        q, name = t["Density"], t["Bath"]
        if name:
            q = next(b["Density"] for b in self.data["Baths"] if b["Name"] == name)
        if not q["Value"]:
            return None
        name = name or "%.4f" % q["Value"]
        self.baths.setdefault(name, (q["Value"], q["SD"] or 0.003))
        return name

    def base(self, symbol):
        return next(c for c, p in self.data["Products"].items() if symbol in [r["Symbol"] for r in p])

    def learn(self):
        """(cues 6): a row counts as five pieces; known pieces are added to it."""
        for kind, rows in self.rows.items():
            counts = {}
            for k in self.data["Known"]:
                for t in self.tests(known=k["Name"]):
                    if t["Kind"] == kind:
                        for outcome, m in seen(t):
                            c = counts.setdefault(self.base(k["Material"]), np.zeros(len(self.outcomes[kind])))
                            c[self.outcomes[kind].index(outcome)] += m
            for c, got in counts.items():
                for r in self.data["Products"][c]:
                    rows[r["Symbol"]] = (5 * rows[r["Symbol"]] + got) / (5 + got.sum())

    def tests(self, lot=None, known=None):
        return [t for t in self.data["Tests"] if (lot and t["Lot"] == lot) or (known and t["Known"] == known)]

    def worlds(self):
        """(response 5): what tests share, and the products of the snippets, given the snippets' readings."""
        n = self.n * (8 if self.data["Known"] else 1)
        w = {"bath": {b: q + sd * self.rng.standard_normal(n) for b, (q, sd) in self.baths.items()},
             "thermo": self.rng.standard_normal(n), "air": np.exp(AIR * self.rng.standard_normal(n)),
             "slips": np.exp(SLIPS * self.rng.standard_normal(n) - SLIPS ** 2 / 2), "known": []}
        weight = np.ones(n)
        for k in self.data["Known"]:
            product = self.snippet(k, n)
            w["known"].append(product)
            for p in self.pieces(self.tests(known=k["Name"]), "cut"):
                weight *= self.read(p, product, w, cues=False) ** p["n"]
        if not self.data["Known"]:
            return w
        at = self.rng.choice(n, self.n, p=weight / weight.sum())
        return {"bath": {b: x[at] for b, x in w["bath"].items()}, "thermo": w["thermo"][at], "air": w["air"][at], "slips": w["slips"][at],
                "known": [{f: x[at] for f, x in p.items()} for p in w["known"]]}

    def snippet(self, k, n):
        p = self.spool(self.base(k["Material"]), n)
        if k["Density"]["Value"]:
            p["d"] = k["Density"]["Value"] + max(k["Density"]["SD"], 0.002) * self.rng.standard_normal(n)
        plain = self.data["Products"][self.base(k["Material"])][0]
        return {"d": p["d"], "s": self.softens(plain, n), "v": np.zeros(n, int)}

    def softens(self, r, n):
        """(response 3)"""
        if not r["Rigid"]:
            return np.full(n, -np.inf)
        if r["Softens"] is None:
            return np.full(n, np.inf)
        s = r["Softens"]
        return s["Typical"] + max((s["High"] - s["Low"]) / 4, 1.5) * self.rng.standard_normal(n)

    def spool(self, c, n):
        """(response 4): products never seen, of candidate c."""
        rng, records = self.rng, self.data["Products"][c]
        if c == "other":
            u = rng.random(n)
            s = np.where(u < 0.35, 45 + 60 * rng.random(n), np.where(u < 0.45, -np.inf, np.inf))
            return {"d": 1.20 + 0.12 * rng.standard_normal(n), "s": s, "v": np.zeros(n, int)}
        share = np.array([0.6 if not r["Variant"] else 0.03 if r["Variant"] == "annealed" else 0.4 / (len(records) - 1) for r in records])
        v = rng.choice(len(records), n, p=share / share.sum())
        spread = np.array([r["Spread"] for r in records])[v] * np.where(rng.random(n) < 0.5, 0.4, 1.3)
        d = np.array([r["Density"] for r in records])[v] + spread * rng.standard_normal(n)
        s = np.choose(v, [self.softens(r, n) for r in records])
        return {"d": d, "s": s, "v": v}

    def product(self, c, lot, w):
        """(response 4): a product of the lot, with 0.75 one of the known snippets of its material."""
        n = self.n
        p = self.spool(c, n)
        mine = [i for i, k in enumerate(self.data["Known"]) if self.base(k["Material"]) == c]
        if mine:
            share = np.array([6.0 if self.coloured(self.data["Known"][i], lot) else 1.0 for i in mine])
            which = self.rng.choice(len(mine), n, p=share / share.sum())
            seen_before = self.rng.random(n) < 0.75
            for j, i in enumerate(mine):
                take = seen_before & (which == j)
                for f in p:
                    p[f] = np.where(take, w["known"][i][f], p[f])
        p["tilt"] = {kind: np.exp(HABIT * self.rng.standard_normal((n, len(o)))) for kind, o in self.outcomes.items()}
        return p

    def coloured(self, k, lot):
        words = (k["Name"] + " " + k["Spool"] + " " + k["Colour"]).lower().split()
        return any(c in words and c in COLOURS for c in (lot["Colour"] + " " + lot["Name"]).lower().split())

    def pieces(self, tests, prep):
        """Readings by piece: a numbered piece has all of its own, fresh ones one each."""
        out, numbered = [], {}
        for t in tests:
            for outcome, n in seen(t):
                if outcome == "unclear":
                    continue
                reading = (t["Kind"], outcome, self.bath(t), t["Temp"]["Value"])
                air = MEAN_AIR[t["Prep"] or prep]
                if t["Piece"] and not t["Counts"]:
                    p = numbered.get(t["Piece"])
                    if p is None:
                        p = numbered[t["Piece"]] = {"n": 1, "air": air, "readings": []}
                        out.append(p)
                    p["readings"].append(reading)
                else:
                    out.append({"n": n, "air": air, "readings": [reading]})
        return out

    def read(self, piece, product, w, cues=True, symbols=("",)):
        """P(readings of a piece | its product, the world)."""
        low, high, limp, stiff = -np.inf, np.inf, np.inf, -np.inf
        p = np.ones_like(product["d"])
        for kind, outcome, bath, temp in piece["readings"]:
            if kind == "float":
                b = w["bath"][bath]
                if outcome != "floats":
                    low = np.maximum(low, b + (HOVER if outcome == "sinks" else -HOVER))
                if outcome != "sinks":
                    high = np.minimum(high, b + (HOVER if outcome == "hovers" else -HOVER))
            elif kind == "hot-water":
                if outcome == "soft":
                    limp = np.minimum(limp, temp + w["thermo"])
                else:
                    stiff = np.maximum(stiff, temp + w["thermo"])
            elif cues:
                rows = np.array([self.rows[kind][s] for s in symbols])[product["v"]] * product["tilt"][kind]
                p *= rows[:, self.outcomes[kind].index(outcome)] / rows.sum(axis=1)
        if np.ndim(low) or np.ndim(high):
            a = piece["air"] * w["air"]
            inside = (lighter(high, product["d"], PIECE, a) if np.ndim(high) else 1) - (lighter(low, product["d"], PIECE, a) if np.ndim(low) else 0)
            wrong = np.minimum(0.25, 0.015 * w["slips"])
            p *= np.where(low < high, floor(inside, wrong), wrong)
        if np.ndim(limp) or np.ndim(stiff):
            soft = lambda t: ndtr((t - product["s"]) / FINGER)
            inside = (soft(limp) if np.ndim(limp) else 1) - (soft(stiff) if np.ndim(stiff) else 0)
            wrong = np.minimum(0.25, 0.03 * w["slips"])
            p *= np.where(stiff < limp, floor(inside, wrong), wrong)
        return p

    def table(self, lot, pieces, w):
        """[piece][world, candidate]: P(readings | one of the lot's products of the candidate)."""
        spools = 1 if lot["Mixed"] is False else 2
        out = [np.zeros((self.n, len(self.symbols))) for _ in pieces]
        for c, symbol in enumerate(self.symbols):
            names = [r["Symbol"] for r in self.data["Products"][symbol]]
            for _ in range(spools):
                product = self.product(symbol, lot, w)
                for g, piece in enumerate(pieces):
                    out[g][:, c] += self.read(piece, product, w, symbols=names) / spools
        return out

    def prior(self, lot):
        """Prior shares of a lot: what stands on the shelf first."""
        p = np.array([c["Weight"] for c in self.data["Candidates"]])
        if lot["CouldBe"]:
            for i, c in enumerate(self.data["Candidates"]):
                if c["Symbol"] in lot["CouldBe"]:
                    p[i] += 0.3
                elif c["Symbol"] != "other":
                    p[i] *= 0.3 if c["Why"] == "usual in printing" else 0.08
        return p / p.sum()


def seen(t):
    return [(c["Outcome"], c["N"]) for c in t["Counts"]] if t["Counts"] else [(t["Outcome"], 1)]


class Pile:
    """One lot: likelihood of being of each candidate, and of mixtures, in every world."""

    def __init__(self, b, lot, w, prior=None, pure=None, concentration=2.5, cap=1.0):
        self.b, self.lot = b, lot
        self.p = b.prior(lot) if prior is None else prior
        self.pure = min(PURE[lot["Mixed"]] if pure is None else pure, cap)
        self.alpha = concentration * self.p + 0.01
        self.weigh(b.pieces(b.tests(lot=lot["Name"]), lot["Prep"]), w)

    def weigh(self, pieces, w):
        b = self.b
        tables, n = b.table(self.lot, pieces, w), [p["n"] for p in pieces]
        self.vertex = np.ones((b.n, len(self.p)))
        for t, k in zip(tables, n):
            self.vertex *= t ** k
        self.mix(tables, n)

    def mix(self, tables, n, each=8):
        """Mixtures: eight from the law for every world, of which one is kept by its likelihood."""
        b = self.b
        w = b.rng.dirichlet(self.alpha, (b.n, each))
        like = np.ones((b.n, each))
        for t, k in zip(tables, n):
            like *= np.einsum("ikc,ic->ik", w, t) ** k
        self.mixture = like.mean(axis=1)
        self.blend = np.einsum("ik,ikc->ic", like, w) / like.sum(axis=1)[:, None]  # mean make-up, given the world
        pick = (like.cumsum(axis=1) < (b.rng.random(b.n) * like.sum(axis=1))[:, None]).sum(axis=1)
        self.w = w[np.arange(b.n), pick]

    def states(self):
        """[world, candidate or mixture]: prior times likelihood."""
        return np.column_stack([self.pure * self.p * self.vertex, (1 - self.pure) * self.mixture])

    def share(self):
        """Mean shares given this lot's own tests, and the probability that it is a mixture."""
        s = self.states()
        return (s[:, :-1].sum(axis=0) + s[:, -1] @ self.blend) / s.sum(), s[:, -1].sum() / s.sum()


def piles(b, worlds):
    """(triage 1): lots teach each other, crumbs follow the other lots, sides of a split their parent."""
    now = [l for l in b.data["Lots"] if l["Now"]]
    cap = [0.15 if l["Name"] == "unsorted" else 1 for l in now]
    out = [side(b, l, worlds()) if l["Side"] else b.pile(b, l, worlds(), cap=c) for l, c in zip(now, cap)]
    open_to = [not l["CouldBe"] and not l["Side"] for l in now]
    found = [p.share()[0] if o and b.tests(lot=l["Name"]) else 0 for l, p, o in zip(now, out, open_to)]
    for i, l in enumerate(now):
        taught = sum(f for j, f in enumerate(found) if j != i)
        if open_to[i] and np.any(taught):
            prior = 3 * out[i].p + taught
            out[i] = b.pile(b, l, worlds(), prior / prior.sum(), cap=cap[i])
    crumbs = [l["Name"] == "unsorted" or (l["Mixed"] is True and not l["Side"]) for l in now]
    grams = sum(l["Grams"] for l, c in zip(now, crumbs) if not c)
    rest = sum(l["Grams"] * p.share()[0] for l, p, c in zip(now, out, crumbs) if not c)
    for i, l in enumerate(now):
        if crumbs[i] and grams > 0 and not l["CouldBe"]:
            out[i] = b.pile(b, l, worlds(), 0.35 * out[i].p + 0.65 * rest / grams, concentration=3.0, cap=cap[i])
    return out


def side(b, lot, w):
    split, s = next((x, y) for x in b.data["Splits"] for y in x["Into"] if y["Name"] == lot["Name"])
    parent = next(l for l in b.data["Lots"] if l["Name"] == split["Lot"] and not l["Now"])
    mean = b.pile(b, parent, w).share()[0]
    if s["CouldBe"] and s["CouldBe"] != parent["CouldBe"]:
        mean = b.prior(lot)
    piece = {"n": 1, "air": MEAN_AIR[parent["Prep"]], "readings": [(split["Kind"], s["Outcome"], b.bath(split), split["Temp"]["Value"])]}
    mean = mean * b.table(parent, [piece], w)[0].mean(axis=0)
    return b.pile(b, lot, w, 0.97 * mean / mean.sum() + 0.03 * b.prior(lot), pure=0.3, concentration=5.0)


def tie(b, lots):
    """(triage 4): precision of the totals by candidate, softened, with their mean and upper bounds."""
    g, C = b.data["Budget"], len(b.symbols)
    P, mu, U = np.zeros((C, C)), np.zeros(C), np.full(C, np.inf)
    if not g["Materials"]:
        return None
    at = [b.symbols.index(b.base(m)) for m in g["Materials"]]
    P[np.ix_(at, at)], mu[at] = g["Precision"], g["Mean"]
    U[at] = [np.inf if u < 0 else u for u in g["Max"]]
    M = np.array([p.lot["Grams"] for p in lots])
    mixed = np.array([p.share()[1] for p in lots])
    D = (0.01 * M.sum()) ** 2 + ((0.04 * M * mixed) ** 2).sum()
    return np.linalg.solve(np.eye(C) + P * D, P), mu, U


def draw(weights, rng, n):
    return np.searchsorted(weights.cumsum(), rng.random(n) * weights.sum()).clip(0, len(weights) - 1)


def together(b, lots, common):
    """Mean shares by lot under all evidence. With common, all lots live in the same world; without, the
    errors that tests share are integrated for every lot apart, as (triage 4) says."""
    S = [p.states() for p in lots]
    totals = [s.sum(axis=1) for s in S]
    info = tie(b, lots)
    if info is None:
        out = []
        for i, p in enumerate(lots):
            w = np.prod([t for j, t in enumerate(totals) if j != i], axis=0) if common and len(lots) > 1 else np.ones(b.n)
            out.append(((w[:, None] * S[i][:, :-1]).sum(axis=0) + (w * S[i][:, -1]) @ p.blend) / (w @ totals[i]))
        return np.array(out)
    P, mu, U = info
    n = 20 * b.n
    weight, makeups, T = np.ones(n), [], np.zeros((n, len(mu)))
    shared = draw(np.prod([t / t.mean() for t in totals], axis=0), b.rng, n)
    for p, s, t in zip(lots, S, totals):
        at = shared if common else draw(t, b.rng, n)
        k = (s[at].cumsum(axis=1) < (b.rng.random(n) * t[at])[:, None]).sum(axis=1).clip(0, s.shape[1] - 1)
        w = np.where((k == len(mu))[:, None], p.w[at], np.eye(len(mu) + 1)[k][:, :-1])
        makeups.append(w)
        T += p.lot["Grams"] * w
    over = np.clip(T - U, 0, None) / np.where(np.isinf(U), 1, 0.05 * np.where(np.isinf(U), 1, U) + 5)
    q = np.einsum("ic,cd,id->i", T - mu, P, T - mu) + (over ** 2).sum(axis=1)
    weight = np.exp(-q / 2)
    return np.array([weight @ w / weight.sum() for w in makeups])


def run(data, n, batches, common, pile=Pile):
    got = []
    for batch in range(batches):
        b = Bin(json.loads(json.dumps(data)), np.random.default_rng([20, batch]), n, pile)
        one = b.worlds()
        got.append(together(b, piles(b, (lambda: one) if common else b.worlds), common))
    got = np.array(got)
    return got.mean(axis=0), got.std(axis=0, ddof=1) / np.sqrt(batches)


def answer(ways):
    """Reads the bin, writes what every way of ways, (name, function of the bin), finds."""
    data = json.load(sys.stdin)
    for name in ("Tests", "Baths", "Known", "Splits", "Sheets"):
        data[name] = data[name] or []
    out = {"lots": [l["Name"] for l in data["Lots"] if l["Now"]], "materials": [c["Symbol"] for c in data["Candidates"]]}
    for name, way in ways:
        begin = time.time()
        mean, se = way(data)
        out[name] = {"shares": mean.tolist(), "error": se.tolist(), "seconds": time.time() - begin}
    json.dump(out, sys.stdout)


if __name__ == "__main__":
    size, repeats = int(sys.argv[1]), int(sys.argv[2])
    answer([(how, lambda d, how=how: run(d, size, repeats, how == "common")) for how in sys.argv[3:]])
