#!/usr/bin/env python3
"""Writes the notebooks of this folder, and beside each what is truly in it (NAME.json).
The runs are invented by the few lines below; no car, track or meet exists.
The second half is written by Miller (mlr 6) and Gnumeric (ssconvert 1.12): python3 make.py"""
import datetime as dt, json, os, random, subprocess

HERE = os.path.dirname(os.path.abspath(__file__))
ROUNDS = ["T1", "T2", "Q1", "E1", "E2", "E3"]


def runs(seed, days, per_day, car="heron", track="saltgrass", et=13.2, mph=105.8, marks=5):
    rnd, out = random.Random(seed), []
    for day in days:
        luck = rnd.gauss(0, 0.04)
        for i in range(per_day):
            launch, engine = rnd.gauss(0, 0.012), luck + rnd.gauss(0, 0.02)
            s60 = et * 0.1447 + launch
            r = {"date": day, "time": "%02d:%02d" % (10 + i, (17 * i + 5) % 60), "vehicle": car, "track": track,
                 "round": ROUNDS[i % 6], "lane": ["left", "right"][(i + seed) % 2],
                 "reaction_s": round(0.035 + rnd.gauss(0, 0.02), 3), "et_60_s": round(s60, 3)}
            for name, share in (("et_330_s", 0.4115), ("et_660_s", 0.6367), ("et_1000_s", 0.831), ("et_1320_s", 1.0)):
                r[name] = round(et * share + launch * 1.2 + engine * share, 3)
            r["mph_660"] = round(mph * 0.7915 - engine * 3 + rnd.gauss(0, 0.05), 2)
            r["mph_1000"] = round(mph * 0.925 - engine * 3.5 + rnd.gauss(0, 0.05), 2)
            r["mph_1320"] = round(mph - engine * 4 + rnd.gauss(0, 0.05), 2)
            if marks == 3:
                for k in ("et_1000_s", "mph_1000", "et_1320_s", "mph_1320"):
                    del r[k]
            out.append(r)
    return out


def days(*texts):
    return [dt.date.fromisoformat(t) for t in texts]


def save(name, data, rs, fields, args=(), asks="", helped=()):
    """fields are what the notebook says of each run, by the words of the log."""
    if isinstance(data, str):
        data = data.encode()
    with open(os.path.join(HERE, name), "wb") as f:
        f.write(data)
    want(name, rs, fields, args, asks, helped)


def want(name, rs, fields, args=(), asks="", helped=()):
    out = []
    for r in rs:
        w = {k: r[k] for k in fields if k in r and r[k] is not None}
        w.update(date=r["date"].isoformat(), vehicle=r["vehicle"], track=r["track"])
        out.append(w)
    with open(os.path.join(HERE, os.path.splitext(name)[0] + ".json"), "w") as f:
        json.dump({"file": name, "args": list(args), "asks": asks, "helped": list(helped), "runs": out}, f, indent=1)
        f.write("\n")


def table(rows, sep=",", end="\n"):
    def cell(c):
        c = "" if c is None else str(c)
        return '"' + c.replace('"', '""') + '"' if sep in c or '"' in c else c
    return end.join(sep.join(cell(c) for c in row) for row in rows) + end


def mdy(d): return "%d/%d/%02d" % (d.month, d.day, d.year % 100)
def t3(v): return "%.3f" % v
def t2(v): return "%.2f" % v
def comma(v): return str(v).replace(".", ",")


FULL = ["reaction_s", "et_60_s", "et_330_s", "et_660_s", "mph_660", "et_1000_s", "mph_1000", "et_1320_s", "mph_1320"]
SHORT = ["reaction_s", "et_60_s", "et_330_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"]

# ---- the first half -------------------------------------------------------------------

rs = runs(1, days("2025-05-03", "2025-05-17", "2025-06-14"), 6)
save("plain.csv", table([["Date", "Time", "Rnd", "Lane", "R/T", "60'", "330'", "1/8", "MPH", "1000'", "1/4", "MPH"]] + [
    [mdy(r["date"]), r["time"], r["round"], r["lane"][0].upper(), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]),
     t2(r["mph_660"]), t3(r["et_1000_s"]), t3(r["et_1320_s"]), t2(r["mph_1320"])] for r in rs]),
     rs, SHORT + ["et_1000_s", "round", "lane", "time"], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(2, days("2025-05-25", "2025-07-19"), 7)
save("metric.csv", table([["Datum", "18 m", "100 m", "201 m", "km/h", "305 m", "402 m", "km/h"]] + [
    [r["date"].strftime("%d.%m.%Y"), comma(t3(r["et_60_s"])), comma(t3(r["et_330_s"])), comma(t3(r["et_660_s"])), comma(t2(r["mph_660"] * 1.609344)),
     comma(t3(r["et_1000_s"])), comma(t3(r["et_1320_s"])), comma(t2(r["mph_1320"] * 1.609344))] for r in rs], ";"),
     rs, [f for f in FULL if f not in ("reaction_s", "mph_1000")], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(3, days("2024-08-10", "2024-08-24"), 5)
save("at-speed.tsv", table([["When", "Light", "60 ft", "330", "660", "1320", "Remarks"]] + [
    [r["date"].isoformat(), t3(r["reaction_s"]).replace("0.", "."), t3(r["et_60_s"]), t3(r["et_330_s"]), "%.3f@%.2f" % (r["et_660_s"], r["mph_660"]),
     "%.3f @ %.2f" % (r["et_1320_s"], r["mph_1320"]), "spun a little" if i == 2 else ""] for i, r in enumerate(rs)], "\t"),
     rs, SHORT, ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(4, days("2024-05-04", "2024-06-01", "2024-07-13"), 4)
lines, block = [["My season"], []], None
for i, r in enumerate(rs):
    if i % 4 == 0:
        lines += [[], ["Saltgrass, %s, Spring Cup" % r["date"].strftime("%B %-d %Y")], ["Run", "RT", "60", "330", "660", "MPH", "1320", "MPH"]]
    lines.append([i % 4 + 1, t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])])
    if i % 4 == 3:
        four = rs[i - 3:i + 1]
        lines.append(["Average"] + [t3(sum(x[k] for x in four) / 4) for k in SHORT])
save("titles.csv", table(lines), rs, SHORT, ["--vehicle", "heron"])

rs = runs(5, days("2023-09-02", "2023-09-16", "2023-09-30"), 5)
back, seen = [["DATE", "60FT", "1/8 ET", "1/8 MPH", "1/4 ET", "1/4 MPH", "NOTES"]], None
for r in reversed(rs):
    back.append(["" if r["date"] == seen else mdy(r["date"]), t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"]), ""])
    seen = r["date"]
save("newest-first.csv", table(back), rs, ["et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(6, days("2025-04-19", "2025-05-03"), 6)
save("two-lines.csv", table([["", "", "", "1/8 mile", "", "1/4 mile", ""], ["Date", "R.T.", "60 ft.", "E.T.", "M.P.H.", "E.T.", "M.P.H."]] + [
    [r["date"].strftime("%d %b %Y"), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])] for r in rs]),
     rs, ["reaction_s", "et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(7, days("2025-06-21", "2025-06-28"), 4)
save("across.csv", table([["Date"] + [mdy(r["date"]) for r in rs], ["Reaction"] + [t3(r["reaction_s"]) for r in rs], ["60'"] + [t3(r["et_60_s"]) for r in rs],
     ["330'"] + [t3(r["et_330_s"]) for r in rs], ["1/8 mile ET"] + [t3(r["et_660_s"]) for r in rs], ["1/8 mile MPH"] + [t2(r["mph_660"]) for r in rs],
     ["1/4 mile ET"] + [t3(r["et_1320_s"]) for r in rs], ["1/4 mile MPH"] + [t2(r["mph_1320"]) for r in rs]]),
     rs, SHORT, ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(8, days("2025-03-22", "2025-03-29"), 6)
save("nameless.csv", table([["c1", "c2", "c3", "c4", "c5", "c6", "c7", "c8"]] + [
    [mdy(r["date"]), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])] for r in rs]),
     rs, SHORT, ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(9, days("2024-04-13", "2024-04-27"), 6)
save("corrected.csv", table([["Date", "RT", "60'", "330'", "660 ET", "660 MPH", "ET", "MPH", "Corr ET", "Corr MPH"]] + [
    [mdy(r["date"]), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"]),
     t3(r["et_1320_s"] * 0.981), t2(r["mph_1320"] * 1.019)] for r in rs]),
     rs, SHORT, ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(10, days("2024-09-14", "2024-09-28"), 6)
for r in rs:
    r["reaction_s"] = round(r["reaction_s"] + 0.5, 3)
save("half-tree.csv", table([["Date", "Reaction Time", "Sixty", "Eighth", "Eighth mph", "Quarter", "Quarter mph", "Dial-in", "W/L"]] + [
    [mdy(r["date"]), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"]), "13.15", "WL"[i % 3 == 0]]
    for i, r in enumerate(rs)]),
     rs, ["reaction_s", "et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(11, days("2025-07-05", "2025-07-20"), 5)
rnd = random.Random(11)
for i, r in enumerate(rs):
    r["opponent_reaction_s"], r["opponent_et_s"] = round(0.04 + rnd.gauss(0, 0.02), 3), round(12.4 + rnd.gauss(0, 0.05), 3)
    if i % 4 == 1:
        r["reaction_s"] = -abs(round(rnd.gauss(0.012, 0.004), 3))
save("red-lights.csv", table([["Date", "Car", "Track", "RT", "60'", "1/8", "mph", "1/4", "mph", "Opp RT", "Opp ET"]] + [
    [mdy(r["date"]), "Heron", "Saltgrass", ("r%.3f" % -r["reaction_s"]).replace("r0", "r") if r["reaction_s"] < 0 else t3(r["reaction_s"]).lstrip("0"), t3(r["et_60_s"]),
     t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"]), t3(r["opponent_reaction_s"]), t3(r["opponent_et_s"])] for r in rs]),
     rs, ["reaction_s", "et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320", "opponent_reaction_s", "opponent_et_s"])

rs = runs(12, days("2024-06-15", "2024-06-29"), 6, track="highmesa", et=14.1, mph=98.7)
rnd = random.Random(12)
for r in rs:
    r["temp_f"], r["rh_pct"], r["station_inhg"] = float(rnd.randint(70, 92)), float(rnd.randint(18, 40)), round(24.85 + rnd.gauss(0, 0.05), 2)
save("air.csv", table([["Date", "Time", "Track", "Air Temp (F)", "Humidity %", "Baro", "D/A", "RT", "60'", "330'", "1/8 ET", "1/8 MPH", "1/4 ET", "1/4 MPH"]] + [
    [mdy(r["date"]), r["time"], "High Mesa", "%.0f" % r["temp_f"], "%.0f" % r["rh_pct"], t2(r["station_inhg"]), "7,%d" % rnd.randint(100, 999), t3(r["reaction_s"]), t3(r["et_60_s"]),
     t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])] for r in rs]),
     rs, SHORT + ["time", "temp_f", "rh_pct", "station_inhg"], ["--vehicle", "heron"])

# ---- the second half: by other programs, in other hands' ways --------------------------


def mlr(rows, *verbs_and_flags):
    return subprocess.run(["mlr", "--icsv", *verbs_and_flags], input=table(rows).encode(), stdout=subprocess.PIPE, check=True).stdout


def gnumeric(name, *files):
    """One workbook of CSV files, a sheet each."""
    paths = []
    for sheet, rows in files:
        path = os.path.join("/tmp", sheet)
        with open(path, "w") as f:
            f.write(table(rows))
        paths.append(path)
    out = os.path.join(HERE, name)
    if len(paths) == 1:
        subprocess.run(["ssconvert", *paths, out], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    else:
        subprocess.run(["ssconvert", "--merge-to", out, *paths], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


rs = runs(21, days("2022-05-07", "2022-05-21", "2022-06-04"), 5)
gnumeric("gnumeric-dates.xlsx", ("season", [["", "logged by hand, 2022"], [], ["when", "tod", "bulb", "sixty", "three-thirty", "eighth", "@", "thousand", "quarter", "@", "how it went"]] + [
    [r["date"].isoformat(), r["time"], t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1000_s"]), t3(r["et_1320_s"]),
     t2(r["mph_1320"]), "good" if i % 2 else "short-shifted 2nd"] for i, r in enumerate(rs)]))
want("gnumeric-dates.xlsx", rs, [f for f in FULL if f != "mph_1000"] + ["time"], ["--vehicle", "heron", "--track", "saltgrass"])

a, b = runs(22, days("2023-04-15", "2023-04-29"), 5), runs(23, days("2023-05-13"), 6, car="plover", et=10.9, mph=121.7)
sheet = lambda rs: [["Date", "Vehicle", "Pass", "60ft", "660ft", "660mph", "1320ft", "1320mph"]] + [
    [r["date"].strftime("%b %d, %Y"), r["vehicle"].upper(), i + 1, t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])] for i, r in enumerate(rs)]
gnumeric("two-sheets.xlsx", ("car", sheet(a)), ("bike", sheet(b)))
want("two-sheets.xlsx", a + b, ["et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"], ["--track", "saltgrass"])

rs = runs(24, days("2021-10-09", "2021-10-23"), 5)
save("wide-letters.txt", mlr([["Day", "Elapsed 1/4", "Trap", "Elapsed 1/8", "Trap 1/8", "60-foot", "React"]] + [
    [r["date"].strftime("%a %-d %b %Y"), t3(r["et_1320_s"]), t2(r["mph_1320"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_60_s"]), t3(r["reaction_s"])] for r in rs],
    "--otsv", "cat").decode().encode("utf-16"), rs, ["et_1320_s", "mph_1320", "et_660_s", "mph_660", "et_60_s", "reaction_s"], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(25, days("2022-07-16", "2022-08-13"), 5)
rnd = random.Random(25)
for r in rs:
    c, hpa, r["rh_pct"] = rnd.randint(18, 33), round(984 + rnd.gauss(0, 3), 1), float(rnd.randint(35, 70))
    r["temp_f"], r["station_inhg"], r["c"], r["hpa"] = round(c * 1.8 + 32, 2), round(hpa / 33.86389, 2), c, hpa
save("windows.csv", table([["Jour", "Air °C", "Rel. humidity", "Station pressure hPa", "60 ft", "100 m", "200 m", "200 m km/h", "400 m", "400 m km/h", "Café"]] + [
    [r["date"].strftime("%d/%m/%Y"), r["c"], comma(r["rh_pct"]), comma(r["hpa"]), comma(t3(r["et_60_s"])), comma(t3(r["et_330_s"])), comma(t3(r["et_660_s"])),
     comma(t2(r["mph_660"] * 1.609344)), comma(t3(r["et_1320_s"])), comma(t2(r["mph_1320"] * 1.609344)), "déjà vu"] for r in rs], ";", "\r\n").encode("cp1252"),
     rs, ["temp_f", "rh_pct", "station_inhg", "et_60_s", "et_330_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(26, days("2020-09-05", "2020-09-19"), 6)
save("bars.txt", mlr([["n", "date", "lane", "r", "a", "b", "c", "c_spd", "d", "d_spd"]] + [
    [i + 1, r["date"].isoformat(), r["lane"], t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])]
    for i, r in enumerate(rs)], "--ocsv", "--ofs", "|", "cat"), rs, SHORT + ["lane"], ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(27, days("2025-08-02", "2025-08-16"), 7, car="plover", et=10.9, mph=121.7, marks=3)
save("eighth.csv", mlr([["ride", "strip", "pass_no", "run_date", "sixty_ft", "et", "trap_speed", "tire_psi", "launch_rpm"]] + [
    ["Plover", "Saltgrass", i + 1, r["date"].strftime("%Y/%m/%d"), t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), 21, 5200] for i, r in enumerate(rs)],
    "--ocsv", "--quote-all", "cat"), rs, ["et_60_s", "et_660_s", "mph_660"])

rs = runs(28, days("2024-10-05", "2024-10-19"), 5)
for i, r in enumerate(rs):
    r["launch_rpm"] = 4800.0 + 100 * (i % 3)
save("quoted.csv", table([["#", "Date", "Clock", "Launch RPM", "DA (ft)", "RT", "60ft", "330ft", "660ft", "660ft MPH", "1,000ft", "1,320ft", "1,320ft MPH", "Comment"]] + [
    [i + 1, r["date"].strftime("%m-%d-%Y"), dt.datetime.strptime(r["time"], "%H:%M").strftime("%-I:%M %p"), "%d,%03d" % divmod(int(r["launch_rpm"]), 1000), "2,%d" % (140 + 7 * i),
     t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1000_s"]), t3(r["et_1320_s"]), t2(r["mph_1320"]), 'lane "A", dry'] for i, r in enumerate(rs)]),
     rs, [f for f in FULL if f != "mph_1000"] + ["launch_rpm", "time"], ["--vehicle", "heron", "--track", "saltgrass"])

a, b = runs(29, days("2019-06-08"), 5), runs(30, days("2019-06-08"), 5, car="plover", et=10.9, mph=121.7)
lines = [["Club day 8 June 2019"], ["Track:", "Saltgrass"]]
for who, rs in (("Heron", a), ("Plover", b)):
    lines += [[], ["Vehicle: " + who], ["time", "rt", "60'", "1/8 et", "1/8 mph", "1/4 et", "1/4 mph"]]
    lines += [[r["time"], t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])] for r in rs]
    lines += [["best", "", min(t3(r["et_60_s"]) for r in rs), "", "", min(t3(r["et_1320_s"]) for r in rs), ""]]
save("club-day.csv", table(lines), a + b, ["time", "reaction_s", "et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"])

rs = runs(31, days("2018-05-12", "2018-06-09", "2018-07-14"), 4)
save("sae.csv", mlr([["date", "lights", "60", "330", "660", "660 speed", "1320", "1320 speed", "1320 sae", "diff"]] + [
    [r["date"].strftime("%-d-%b-%y"), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"]),
     t3(r["et_1320_s"] - 0.25), "0.250"] for r in rs], "--ocsv", "--ofs", ";", "cat"), rs, SHORT, ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(32, days("2025-03-01", "2025-03-08"), 5)
save("stamped.csv", mlr([["id", "stamp", "rt", "ft60", "ft660", "mph660", "ft1320", "mph1320"]] + [
    ["x%d" % i, r["date"].isoformat() + "T" + r["time"] + ":00-06:00", t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])]
    for i, r in enumerate(rs)], "--ocsv", "reorder", "-e", "-f", "rt"), rs, ["reaction_s", "et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320", "time"],
     ["--vehicle", "heron", "--track", "saltgrass"])

rs = runs(33, days("2023-02-03", "2023-03-04"), 4)
save("which-day.csv", table([["Date", "RT", "60'", "1/8", "MPH", "1/4", "MPH"]] + [
    [r["date"].strftime("%d/%m/%y"), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1320_s"]), t2(r["mph_1320"])] for r in rs]),
     rs, ["reaction_s", "et_60_s", "et_660_s", "mph_660", "et_1320_s", "mph_1320"], ["--vehicle", "heron", "--track", "saltgrass"], "which-order", ["--date-order", "dmy"])

rs = runs(34, days("2024-03-16", "2024-03-30"), 5)
save("two-ets.csv", table([["Date", "RT", "60'", "1/8", "ET", "MPH", "ET2"]] + [
    [mdy(r["date"]), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_660_s"]), t3(r["et_1320_s"]), t2(r["mph_1320"]), t3(r["et_1320_s"] - 0.19)] for r in rs]),
     rs, ["reaction_s", "et_60_s", "et_660_s", "et_1320_s", "mph_1320"], ["--vehicle", "heron", "--track", "saltgrass"], "two-alike", ["--column", "ET=et_1320", "--column", "ET2=skip"])

rs = runs(35, days("2025-09-06", "2025-09-27"), 5)
save("no-headings.csv", table([[r["date"].isoformat(), t3(r["reaction_s"]), t3(r["et_60_s"]), t3(r["et_330_s"]), t3(r["et_660_s"]), t2(r["mph_660"]), t3(r["et_1000_s"]), t3(r["et_1320_s"]),
     t2(r["mph_1320"])] for r in rs]), rs, [f for f in FULL if f != "mph_1000"], ["--vehicle", "heron", "--track", "saltgrass"])
