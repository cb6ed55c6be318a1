"""The posterior of the lots of a bin by JAGS, a third way.

Reads the same JSON as posterior.py. For every lot a model in the BUGS language is written, docs/method.md
(response 1) to (triage 3) line by line, and run by JAGS (Debian: jags): a chain over products, habits,
errors and shares, with the choice between one material and a mixture summed out. JAGS reckons lots apart; the lots are then
put together under the weighings as in posterior.py, which also reckons what a split was likely to do.
"""
import os
import subprocess
import sys
import tempfile

import numpy as np

import posterior as plain

FAR = 1000  # °C: never softens, or limp when cold


def lighter(x, d, a, i):
    """Share of pieces lighter than x, (response 1), as BUGS text with names of its own."""
    z, r = "((%s - %s)/0.003)" % (d, x), "(0.003/(%s*%s))" % (a, d)
    return "(1 - pnorm(%s, 0, 1) + exp(min(700, %s*%s/2 - %s*%s))*pnorm(%s - %s, 0, 1))" % (z, r, r, r, z, z, r)


def reading(b, piece, d, s, cue):
    """P(readings of a piece) as BUGS text, for a product of density d softening at s."""
    low, high, limp, stiff, factors = [], [], [], [], []
    for kind, outcome, bath, temp in piece["readings"]:
        if kind == "float":
            at = "bath[%d]" % (1 + list(b.baths).index(bath))
            if outcome != "floats":
                low.append("%s %s 0.003" % (at, "+" if outcome == "sinks" else "-"))
            if outcome != "sinks":
                high.append("%s %s 0.003" % (at, "+" if outcome == "hovers" else "-"))
        elif kind == "hot-water":
            (limp if outcome == "soft" else stiff).append("%r + thermo" % temp)
        elif cue:
            factors.append(cue(kind, outcome))
    one = lambda f, x: x[0] if len(x) == 1 else "%s(%s)" % (f, ", ".join(x))
    if low or high:
        lo, hi = one("max", low) if low else "", one("min", high) if high else ""
        air = "%r*air" % piece["air"]
        p = (lighter("(%s)" % hi, d, air, 0) if hi else "1") + (" - " + lighter("(%s)" % lo, d, air, 0) if lo else "")
        p = "(misread + (1 - 2*misread)*max(0, min(1, %s)))" % p
        factors.append("ifelse(%s < %s, %s, misread)" % (lo, hi, p) if lo and hi else p)
    if limp or stiff:
        lo, hi = one("max", stiff) if stiff else "", one("min", limp) if limp else ""
        p = ("pnorm(%s, %s, 0.25)" % (hi, s) if hi else "1") + (" - pnorm(%s, %s, 0.25)" % (lo, s) if lo else "")
        p = "(mishandled + (1 - 2*mishandled)*max(0, min(1, %s)))" % p
        factors.append("ifelse(%s < %s, %s, mishandled)" % (lo, hi, p) if lo and hi else p)
    return "*".join(factors)


def model(b, pieces, known):
    kinds = sorted({k for p in pieces for k, *_ in p["readings"] if k in b.rows})
    out = ["model {", "for (i in 1:B) { bath[i] ~ dnorm(q[i], 1/(u[i]*u[i])) }", "thermo ~ dnorm(0, 1)", "air ~ dlnorm(0, 4)",
           "slips ~ dlnorm(-0.32, 1/0.64)", "misread <- min(0.25, 0.015*slips)", "mishandled <- min(0.25, 0.03*slips)"]
    for k, n in enumerate(known, 1):
        name = b.data["Known"][k - 1]
        given = name["Density"]
        out += ["kz[%d] ~ dnorm(0, 1)" % k, "ks[%d] ~ dnorm(0, 1)" % k, "kv[%d] ~ dcat(vshare[kc[%d], 1:V])" % (k, k), "kh[%d] ~ dbern(0.5)" % k]
        if given["Value"]:
            out.append("kd[%d] <- %r + %r*kz[%d]" % (k, given["Value"], max(given["SD"], 0.002), k))
        else:
            out.append("kd[%d] <- dens[kc[%d], kv[%d]] + spread[kc[%d], kv[%d]]*ifelse(kh[%d], near[kc[%d]], wide[kc[%d]])*kz[%d]" % ((k,) * 9))
        out.append("ksoft[%d] <- sm[kc[%d], 1] + ss[kc[%d], 1]*ks[%d]" % ((k,) * 4))
        for i, p in enumerate(n):
            text = reading(b, p, "kd[%d]" % k, "ksoft[%d]" % k, None)
            if text:
                out += ["kp%d_%d <- pow(%s, %d)" % (k, i, text, p["n"]), "kone%d_%d ~ dbern(kp%d_%d)" % (k, i, k, i)]
    out += ["for (c in 1:C) {", "for (r in 1:R) {", "zd[c, r] ~ dnorm(0, 1)", "zs[c, r] ~ dnorm(0, 1)", "v[c, r] ~ dcat(vshare[c, 1:V])", "h[c, r] ~ dbern(0.5)",
            "dd[c, r, 1] <- dens[c, v[c, r]] + spread[c, v[c, r]]*ifelse(h[c, r], near[c], wide[c])*zd[c, r]",
            "sd[c, r, 1] <- sm[c, v[c, r]] + ss[c, v[c, r]]*zs[c, r] + su[c, v[c, r]]*phi(zs[c, r])", "vd[c, r, 1] <- v[c, r]"]
    for k in range(1, len(known) + 1):
        out += ["dd[c, r, %d] <- kd[%d]" % (k + 1, k), "sd[c, r, %d] <- ksoft[%d]" % (k + 1, k), "vd[c, r, %d] <- 1" % (k + 1)]
    out += ["pick[c, r] ~ dcat(pshare[c, 1:%d])" % (len(known) + 1) if known else "pick[c, r] <- 1",
            "d[c, r] <- dd[c, r, pick[c, r]]", "s[c, r] <- sd[c, r, pick[c, r]]", "vv[c, r] <- vd[c, r, pick[c, r]]"]
    for k in kinds:
        y = k.replace("-", "")
        out += ["for (o in 1:%d) { e%s[c, r, o] ~ dnorm(0, %r)" % (len(b.outcomes[k]), y, 1 / plain.HABIT ** 2),
                "x%s[c, r, o] <- row%s[c, vv[c, r], o]*exp(e%s[c, r, o]) }" % (y, y, y)]
    cue = lambda k, o: "(x%s[c, r, %d]/sum(x%s[c, r, 1:%d]))" % (k.replace("-", ""), 1 + b.outcomes[k].index(o), k.replace("-", ""), len(b.outcomes[k]))
    for g, p in enumerate(pieces, 1):
        out.append("p[%d, c, r] <- %s" % (g, reading(b, p, "d[c, r]", "s[c, r]", cue)))
    out.append("}")
    for g in range(1, len(pieces) + 1):
        out.append("m[%d, c] <- mean(p[%d, c, 1:R])" % (g, g))
    out += ["l[c] <- pure*prior[c]*%s" % ("*".join("pow(m[%d, c], %d)" % (g, p["n"]) for g, p in enumerate(pieces, 1)) or "1"), "}", "left[1] <- 1", "for (i in 1:(C - 1)) { even[i] ~ dunif(0, 1)", "stick[i] <- qbeta(even[i], beta[i], rest[i])",
            "w[order[i]] <- left[i]*stick[i]", "left[i + 1] <- left[i]*(1 - stick[i]) }", "w[order[C]] <- left[C]"]
    for g in range(1, len(pieces) + 1):
        out.append("b[%d] <- inprod(w, m[%d, 1:C])" % (g, g))
    out += ["lm <- (1 - pure)*%s" % ("*".join("pow(b[%d], %d)" % (g, p["n"]) for g, p in enumerate(pieces, 1)) or "1"), "total <- sum(l[1:C]) + lm", "one ~ dbern(total/2)",
            "for (c in 1:C) { pure_of[c] <- l[c]/total }", "mixed <- lm/total", "}"]
    return "\n".join(out)


def data(b, lot, pieces, known, p, pure, alpha):
    C, D = len(b.symbols), b.data
    V = max(3, max(len(r) for r in D["Products"].values()))
    t = {x: np.zeros((C, V)) for x in ("vshare", "dens", "spread", "sm", "ss", "su")}
    t["dens"][:], t["spread"][:] = 1.2, 0.01
    t["near"], t["wide"] = np.full(C, 0.4), np.full(C, 1.3)
    rows = {k: np.full((C, V, len(b.outcomes[k])), 1.0 / len(b.outcomes[k])) for k in b.rows}
    for c, symbol in enumerate(b.symbols):
        records = D["Products"][symbol]
        if symbol == "other":
            t["vshare"][c, :3], t["dens"][c], t["spread"][c] = (0.35, 0.10, 0.55), 1.20, 0.12
            t["near"][c] = t["wide"][c] = 1
            t["sm"][c, :3], t["su"][c, 0] = (45, -FAR, FAR), 60
            for k in rows:
                rows[k][c, :] = b.rows[k]["other"]
            continue
        share = np.array([0.6 if not r["Variant"] else 0.03 if r["Variant"] == "annealed" else 0.4 / (len(records) - 1) for r in records])
        t["vshare"][c, :len(records)] = share / share.sum()
        for v, r in enumerate(records):
            t["dens"][c, v], t["spread"][c, v] = r["Density"], r["Spread"]
            s = r["Softens"]
            t["sm"][c, v] = -FAR if not r["Rigid"] else FAR if s is None else s["Typical"]
            t["ss"][c, v] = 0 if s is None or not r["Rigid"] else max((s["High"] - s["Low"]) / 4, 1.5)
            for k in rows:
                rows[k][c, v] = b.rows[k][r["Symbol"]]
    t.update({"row" + k.replace("-", ""): x for k, x in rows.items()})
    t.update(C=C, R=1 if lot["Mixed"] is False else 2, V=V, B=len(b.baths), q=np.array([x for x, _ in b.baths.values()]), u=np.array([x for _, x in b.baths.values()]),
             prior=p, pure=pure, one=1)
    order = np.argsort(-alpha)
    t.update(order=order + 1, beta=alpha[order][:-1], rest=alpha[order][::-1].cumsum()[::-1][1:])
    if known:
        t["kc"] = np.array([1 + b.symbols.index(b.base(k["Material"])) for k in D["Known"]])
        t["pshare"] = np.zeros((C, len(known) + 1))
        t["pshare"][:, 0] = 1
        for c in range(C):
            mine = np.array([(6.0 if b.coloured(k, lot) else 1.0) * (b.base(k["Material"]) == b.symbols[c]) for k in D["Known"]])
            if mine.sum():
                t["pshare"][c] = np.append(0.25, 0.75 * mine / mine.sum())
        for k, n in enumerate(known, 1):
            for i, piece in enumerate(n):
                if any(kind in ("float", "hot-water") for kind, *_ in piece["readings"]):
                    t["kone%d_%d" % (k, i)] = 1
    return t


def dump(t):
    out = []
    for name, x in t.items():
        x = np.asarray(x)
        body = ", ".join("%.17g" % y for y in x.flatten(order="F"))
        if x.ndim == 0:
            out.append('"%s" <- %s' % (name, body))
        elif x.ndim == 1:
            out.append('"%s" <- c(%s)' % (name, body))
        else:
            out.append('"%s" <- structure(c(%s), .Dim = c(%s))' % (name, body, ", ".join(map(str, x.shape))))
    return "\n".join(out) + "\n"


def jags(text, values, burn, n, seed):
    """What is monitored, sweep by sweep."""
    with tempfile.TemporaryDirectory() as where:
        put = lambda name, s: open(os.path.join(where, name), "w").write(s)
        put("model.bug", text), put("data.R", dump(values)), put("init.R", '".RNG.name" <- "base::Mersenne-Twister"\n".RNG.seed" <- %d\n' % seed)
        put("run.cmd", "model in model.bug\ndata in data.R\ncompile\nparameters in init.R\ninitialize\nupdate %d\nmonitor pure_of\nmonitor mixed\nmonitor w\nupdate %d\ncoda *\n" % (burn, n))
        r = subprocess.run(["jags", "run.cmd"], cwd=where, capture_output=True, text=True)
        if not os.path.exists(os.path.join(where, "CODAindex.txt")):
            sys.exit(r.stdout + r.stderr)
        chain = np.array([float(l.split()[1]) for l in open(os.path.join(where, "CODAchain1.txt"))])
        return {l.split()[0]: chain[int(l.split()[1]) - 1:int(l.split()[2])] for l in open(os.path.join(where, "CODAindex.txt"))}


class Chain(plain.Pile):
    """A lot as JAGS finds it: every sweep is a world, all alike likely."""

    def weigh(self, pieces, w):
        b = self.b
        known = [b.pieces(b.tests(known=k["Name"]), "cut") for k in b.data["Known"]]
        given = data(b, self.lot, pieces, known, self.p, self.pure, self.alpha)
        got = jags(model(b, pieces, known), given, b.n // 5, b.n, 1 + int(b.rng.integers(1 << 30)))
        column = lambda name: np.column_stack([got["%s[%d]" % (name, i + 1)] for i in range(len(self.p))])
        self.of, self.w = np.column_stack([column("pure_of"), got["mixed"]]), column("w")
        self.blend = self.w

    def states(self):
        return self.of


if __name__ == "__main__":
    sweeps, chains = int(sys.argv[1]), int(sys.argv[2])
    plain.answer([("chains", lambda d: plain.run(d, sweeps, chains, False, Chain))])
