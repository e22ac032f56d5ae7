#!/usr/bin/env python3
"""Writes the slip texts of this folder and truth.json, which says what each truly has: python3 make.py
Ten layouts invented here, none of any timing system; the runs are invented too. Each layout comes clean (-0) and
in three grades of what a phone makes of paper: -1 letters for digits in the figures; -2 more of them, in the labels
too, a point lost or doubled, a line broken; -3 much of all that, commas, blanks in figures, a digit gone.
python3 make.py FOLDER SEED writes others elsewhere: how it reads those tells what was fitted to these."""
import json, os, random, sys

HERE = sys.argv[1] if len(sys.argv) > 1 else os.path.dirname(os.path.abspath(__file__))
SEED = int(sys.argv[2]) if len(sys.argv) > 2 else 0
MARKS = [("et_60_s", .1447), ("et_330_s", .4115), ("et_660_s", .6367), ("et_1000_s", .831), ("et_1320_s", 1.0)]


def run(rnd, et, decimals=3, eighth=False, perfect=0.0, red=False):
    """A lane: et is that to the quarter mile."""
    launch, engine = rnd.gauss(0, .012), rnd.gauss(0, .03)
    light = rnd.uniform(.008, .110)
    r = {"reaction_s": round(perfect + (-light / 4 if red else light), decimals)}
    for name, share in MARKS:
        if not (eighth and name in ("et_1000_s", "et_1320_s")):
            r[name] = round(et * share + launch * 1.2 + engine * share, decimals)
    mph = 1398 / et
    r["mph_660"] = round(mph * .7915 - engine * 3 + rnd.gauss(0, .1), 2)
    if not eighth:
        r["mph_1000"] = round(mph * .925 - engine * 3.5 + rnd.gauss(0, .1), 2)
        r["mph_1320"] = round(mph - engine * 4 + rnd.gauss(0, .1), 2)
    r["dial_s"] = round((r.get("et_1320_s") or r["et_660_s"]) - rnd.uniform(-.02, .06), 2)
    return r


def f(v, decimals):
    """As slips print it: no nought before the point."""
    text = "%.*f" % (decimals, v)
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def et(v): return "%.3f" % v
def et4(v): return "%.4f" % v
def mph(v): return "%.2f" % v


# ---- the layouts: each gives lines, a line being a list of tokens that a break may part ----

def over(lane, key):
    d = lane[key] - lane["dial_s"]
    return f(d, 3)


def ladder(l, r, w):
    rows = [["CAR", w["cars"][0], w["cars"][1]], ["DIAL", mph(l["dial_s"]), mph(r["dial_s"])],
            ["R/T", f(l["reaction_s"], 3), f(r["reaction_s"], 3)]]
    for lab, key, form in [("60'", "et_60_s", et), ("330'", "et_330_s", et), ("1/8", "et_660_s", et), ("MPH", "mph_660", mph),
                           ("1000'", "et_1000_s", et), ("1/4", "et_1320_s", et), ("MPH", "mph_1320", mph)]:
        rows.append([lab, form(l[key]), form(r[key])])
    return [["SALTGRASS", "STRIP"], ["2026-05-02", "14:25"], ["RUN", "#", "214"], ["LEFT", "RIGHT"]] + rows + [
        ["WINNER", w["winner"].upper()], ["MARGIN", f(w["margin"], 4)]]


def middle(l, r, w):
    lines = [["Sat", "May", "2,", "2026"], ["2:25", "PM"], ["left", "lane", "right"], [w["cars"][0], "car", w["cars"][1]]]
    for lab, key, form in [("reaction", "reaction_s", lambda v: f(v, 3)), ("60 ft", "et_60_s", et), ("330 ft", "et_330_s", et),
                           ("660 ft", "et_660_s", et), ("660 mph", "mph_660", mph), ("1000 ft", "et_1000_s", et),
                           ("1320 ft", "et_1320_s", et), ("1320 mph", "mph_1320", mph), ("dial", "dial_s", mph)]:
        lines.append([form(l[key]), lab, form(r[key])])
    return lines + [["winner:", w["winner"]]]


def across(l, r, w):
    head = ["LANE", "CAR", "R/T", "60", "330", "660", "MPH", "1000", "1320", "MPH", "DIAL"]
    rows = [head]
    for side, x, car in (("L", l, w["cars"][0]), ("R", r, w["cars"][1])):
        rows.append([side, car, f(x["reaction_s"], 3), et(x["et_60_s"]), et(x["et_330_s"]), et(x["et_660_s"]), mph(x["mph_660"]),
                     et(x["et_1000_s"]), et(x["et_1320_s"]), mph(x["mph_1320"]), mph(x["dial_s"])])
    return [["05/02/2026", "14:25"]] + rows + [["WIN", w["winner"][0].upper()]]


def single(l, r, w):
    return [["Run", "no.", "77"], ["May", "2", "2026,", "2:25", "pm"], ["Lane:", "left"], ["Class:", "Super", "Street"],
            ["Index:", "10.90 s"], ["Reaction:", f(l["reaction_s"], 3) + " s"], ["60 ft:", et(l["et_60_s"]) + " s"],
            ["330 ft:", et(l["et_330_s"]) + " s"], ["1/8 mile:", et(l["et_660_s"]) + " s", "@", mph(l["mph_660"]) + " mph"],
            ["1000 ft:", et(l["et_1000_s"]) + " s", "@", mph(l["mph_1000"]) + " mph"],
            ["1/4 mile:", et(l["et_1320_s"]) + " s", "@", mph(l["mph_1320"]) + " mph"], ["thank", "you,", "drive", "home", "safely"]]


def blocks(l, r, w):
    lines = [["TIME", "14:25", "DATE", "5/2/26"]]
    for side, x, car in (("LEFT LANE", l, w["cars"][0]), ("RIGHT LANE", r, w["cars"][1])):
        lines += [[side], ["CAR#", car], ["DIAL-IN", mph(x["dial_s"])], ["R.T.", f(x["reaction_s"], 3)], ["60FT", et(x["et_60_s"])],
                  ["330FT", et(x["et_330_s"])], ["660FT", et(x["et_660_s"]), mph(x["mph_660"])],
                  ["1000FT", et(x["et_1000_s"]), mph(x["mph_1000"])], ["1320FT", et(x["et_1320_s"]), mph(x["mph_1320"])]]
        if w["winner"] == side.split()[0].lower():
            lines.append(["*", "WINNER", "*"])
    return lines


def pairs(l, r, w):
    return [["CAR", w["cars"][0], "LANE", "L"], ["DATE", "05-02-2026", "TIME", "14:25"],
            ["R/T", f(l["reaction_s"], 3), "60'", et(l["et_60_s"])],
            ["330", et(l["et_330_s"]), "1/8", et(l["et_660_s"])], ["MPH", mph(l["mph_660"]), "1000", et(l["et_1000_s"])],
            ["1/4", et(l["et_1320_s"]), "MPH", mph(l["mph_1320"])], ["DIAL", mph(l["dial_s"]), "O/U", over(l, "et_1320_s")]]


def eighth(l, r, w):
    rows = [["2 May 2026", "14:25", "run", "31"], ["Left", "Right"], ["Car", w["cars"][0], w["cars"][1]], ["Class", "BRKT", "BRKT"],
            ["Dial", mph(l["dial_s"]), mph(r["dial_s"])], ["R/T", f(l["reaction_s"], 4), f(r["reaction_s"], 4)]]
    for lab, key, form in [("60'", "et_60_s", et4), ("330'", "et_330_s", et4), ("ET", "et_660_s", et4), ("MPH", "mph_660", mph)]:
        rows.append([lab, form(l[key]), form(r[key])])
    rows.append(["Over/Under", f(l["et_660_s"] - l["dial_s"], 4), f(r["et_660_s"] - r["dial_s"], 4)])
    return rows + [["Winner", w["winner"], "by", f(w["margin"], 4)]]


def apart(l, r, w):
    """As a phone reads columns that stand far apart: the labels, then a lane, then the other."""
    keys = [("R/T", "reaction_s", lambda v: f(v, 3)), ("60'", "et_60_s", et), ("330'", "et_330_s", et), ("660'", "et_660_s", et),
            ("MPH", "mph_660", mph), ("1000'", "et_1000_s", et), ("1320'", "et_1320_s", et), ("MPH", "mph_1320", mph)]
    lines = [["05/02/2026", "2:25PM"]] + [[lab] for lab, _, _ in keys]
    for side, x in (("LEFT", l), ("RIGHT", r)):
        lines += [[side]] + [[form(x[key])] for _, key, form in keys]
        if w.get("red") == side.lower():
            lines.append(["FOUL"])
    return lines


def copied(l, r, w):
    """As a page lets one copy a table: cells apart by tabs."""
    head = ["Lane", "Car", "Dial", "RT", "60 ft", "330 ft", "1/8 ET", "1/8 MPH", "1000 ft", "1/4 ET", "1/4 MPH", "Result"]
    rows = [["Round", "E2"], ["2026-05-02 14:25"], head]
    for side, x, car in (("Left", l, w["cars"][0]), ("Right", r, w["cars"][1])):
        rows.append([side, car, mph(x["dial_s"]), f(x["reaction_s"], 3), et(x["et_60_s"]), et(x["et_330_s"]), et(x["et_660_s"]),
                     mph(x["mph_660"]), et(x["et_1000_s"]), et(x["et_1320_s"]), mph(x["mph_1320"]),
                     "won" if w["winner"] == side.lower() else "lost"])
    return rows


def stacked(l, r, w):
    """As a page on a phone shows it: a label, under it its figure."""
    lines = [["Time slip"], ["2 May 2026"], ["2:25 PM"], ["Car"], [w["cars"][0]], ["Lane"], ["Right"]]
    for lab, key, form in [("Reaction", "reaction_s", lambda v: f(v, 3)), ("60'", "et_60_s", et), ("330'", "et_330_s", et),
                           ("1/8 mile", "et_660_s", et), ("1/8 mph", "mph_660", mph), ("1000'", "et_1000_s", et),
                           ("1/4 mile", "et_1320_s", et), ("1/4 mph", "mph_1320", mph), ("Dial-in", "dial_s", mph)]:
        lines += [[lab], [form(l[key])]]
    return lines + [["Margin of victory"], [f(w["margin"], 3)]]


# ---- what a phone makes of it ----------------------------------------------------------

LETTERS = {"0": "O", "1": "l", "5": "S", "8": "B"}
MORE = {"0": "Oo", "1": "lI|", "5": "S", "8": "B", "2": "Z", "6": "G"}


def figure(token): return any(c.isdigit() for c in token) and ("." in token)


def swap(rnd, token, table):
    at = [i for i, c in enumerate(token) if c in table]
    if not at:
        return token
    i = rnd.choice(at)
    return token[:i] + rnd.choice(table[token[i]]) + token[i + 1:]


def point(rnd, token):
    i = token.index(".")
    return token[:i] + rnd.choice(["", ".."]) + token[i + 1:]


def spoil(rnd, lines, grade):
    lines = [list(line) for line in lines]
    figures = [(i, k) for i, line in enumerate(lines) for k, t in enumerate(line) if figure(t) and ":" not in t and "/" not in t]
    labels = [(i, k) for i, line in enumerate(lines) for k, t in enumerate(line)
              if not figure(t) and any(c in "01568" for c in t) and ":" not in t and "-" not in t and t.count("/") < 2]
    change = lambda where, how: [lines[i].__setitem__(k, how(lines[i][k])) for i, k in where]
    take = lambda of, n: rnd.sample(of, min(n, len(of)))
    if grade == 1:
        change(take(figures, 3), lambda t: swap(rnd, t, LETTERS))
    if grade == 2:
        change(take(figures, 6), lambda t: swap(rnd, t, LETTERS))
        change(take(labels, 2), lambda t: swap(rnd, t, LETTERS))
        change(take(figures, 2), lambda t: point(rnd, t) if "." in t else t)
    if grade == 3:
        for _ in range(2):
            change(take(figures, 5), lambda t: swap(rnd, t, MORE))
        change(take(labels, 3), lambda t: swap(rnd, t, MORE))
        spoiled = take(figures, 5)
        change(spoiled[:3], lambda t: point(rnd, t) if "." in t else t)
        change(spoiled[3:4], lambda t: t.replace(".", ",", 1))
        change(spoiled[4:5], lambda t: t.replace(".", ". ", 1))
        if rnd.random() < .5:
            i, k = rnd.choice([x for x in figures if x not in spoiled])
            lines[i][k] = lines[i][k][:-1] # a digit gone at the edge of the paper
    for _ in range({2: 1, 3: 2}.get(grade, 0)):
        long = [i for i, line in enumerate(lines) if len(line) > 1 and any(figure(t) for t in line)]
        if long:
            i = rnd.choice(long)
            k = rnd.randrange(1, len(lines[i]))
            lines[i:i + 1] = [lines[i][:k], lines[i][k:]]
    return lines


# ---- the forty -------------------------------------------------------------------------

LAYOUTS = [
    # layout, ours, told, what differs
    (ladder, "left", [], {}), (middle, "right", ["--lane", "right"], {}), (across, "left", ["--car", "412"], {}),
    (single, "left", [], {"et": (10.95, 10.95)}), (blocks, "right", ["--car", "77"], {}), (pairs, "left", [], {}),
    (eighth, "right", ["--lane", "right"], {"eighth": True, "decimals": 4}), (apart, "left", ["--lane", "left"], {"perfect": .5, "red": "right"}),
    (copied, "left", ["--lane", "left"], {}), (stacked, "right", [], {}),
]
ALONE = (single, pairs, stacked)


def main():
    truth = []
    for n, (layout, ours, args, w) in enumerate(LAYOUTS):
        for grade in range(4):
            rnd = random.Random(1000 * n + grade + 10000 * SEED)
            w = dict(w)
            base = w.get("et", (13.2, 12.1) if ours == "left" else (12.1, 13.2))
            make = lambda i, side: run(rnd, base[i], w.get("decimals", 3), w.get("eighth", False), w.get("perfect", 0.0), w.get("red") == side)
            l, r = make(0, "left"), make(1, "right")
            if layout in ALONE and ours == "right":
                l = r
            w["cars"] = ("412", "77")
            end = "et_660_s" if w.get("eighth") else "et_1320_s"
            late = lambda x: x["reaction_s"] + x[end] - x["dial_s"]
            w["margin"] = abs(late(l) - late(r)) or .001
            w["winner"] = "left" if late(l) < late(r) else "right"
            under = [s for s, x in (("left", l), ("right", r)) if x[end] < x["dial_s"]]
            if len(under) == 1:
                w["winner"] = "right" if under == ["left"] else "left"
            if len(under) == 2:
                w["winner"] = "left" if l["dial_s"] - l[end] < r["dial_s"] - r[end] else "right"
            clean = layout(l, r, w)
            text = ("\t" if layout is copied else "  ")
            lines = spoil(rnd, clean, grade)
            name = "%s-%d.txt" % (layout.__name__, grade)
            with open(os.path.join(HERE, name), "w") as out:
                out.write("\n".join(text.join(line) for line in lines) + "\n")
            truth.append({"file": name, "args": args, "lane": ours, "date": "2026-05-02", "time": "14:25",
                          "own": printed(l if ours == "left" or layout in ALONE else r, clean, layout),
                          "other": None if layout in ALONE else printed(r if ours == "left" else l, clean, layout)})
    with open(os.path.join(HERE, "truth.json"), "w") as out:
        json.dump(truth, out, indent=1)
        out.write("\n")


LACKS = {"ladder": ["mph_1000"], "middle": ["mph_1000"], "across": ["mph_1000"], "pairs": ["mph_1000"], "copied": ["mph_1000"],
         "apart": ["mph_1000", "dial_s"], "stacked": ["mph_1000"], "single": ["dial_s"]}


def printed(lane, clean, layout):
    out = {k: v for k, v in lane.items() if k not in LACKS.get(layout.__name__, [])}
    if layout is single:
        out["index_s"] = 10.90
    return out


main()
