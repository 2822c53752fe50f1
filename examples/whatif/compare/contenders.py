# The arithmetic of hand.go as a plain Python loop, as NumPy over whole arrays and chunks,
# and as a sheet that LibreOffice recalculates. The Go program calls this, with the constants
# as JSON on the input, and reads the times and the checksums of the columns.
import json
import math
import sys
import time

task, n = sys.argv[1], int(sys.argv[2])
given = json.load(sys.stdin)
k, axes = given["sheet"], given["axes"]


def rounded(x):  # half away from zero, as a person rounds
    return math.floor(x + 0.5)


def plan(tap, flour_temp, baked, friction, pieces):
    piece = baked / (1 - k["Bake"] / 100) / (1 - k["Cooling"] / 100)
    u = (piece - k["MeanWeight"]) / k["Slope"]
    g = k["T"] * k["T"] * k["S"] * k["S"] / (k["Slope"] * k["Slope"] * k["Sxx"])
    half = k["T"] * k["S"] / abs(k["Slope"]) * math.sqrt((1 - g) / k["N"] + u * u / k["Sxx"])
    mark = k["MeanMark"] + u
    set_ = rounded(mark / k["MarkStep"]) * k["MarkStep"]
    ball = (6000 * piece / (math.pi * k["Density"])) ** (1 / 3)
    middle, least, fill = (k["CupLow"] + k["CupHigh"]) / 2, math.inf, 0.0
    for cup in k["Cups"]:
        miss = abs(ball / cup - middle)
        if miss < least and ball / cup <= 1:
            least, fill = miss, ball / cup
    low = max(k["Travel"] / k["Ratio"] / (k["DwellHigh"] / 60), k["StrokesLow"], k["StampsLow"])
    high = min(k["Travel"] / k["Ratio"] / (k["DwellLow"] / 60), k["StrokesHigh"], k["StampsHigh"])
    strokes = math.floor(high / k["StrokeStep"] + 1e-9) * k["StrokeStep"]
    rate = strokes * k["Across"]
    dough_rate = rate * piece * 60 / 1000
    each, all_ = piece * (1 + k["Waste"] / 100), pieces + k["Spare"]
    largest = min(k["MixerHigh"], k["Hopper"], k["HopperMax"] * dough_rate / 3.6 * (1 + k["Waste"] / 100))
    batches = math.ceil(all_ / math.floor(largest / each))
    per = math.ceil(all_ / batches)
    batch = per * each
    flour = batch / (sum(k["Percents"]) / 100)
    d = k["Division"]
    weighed = rounded(batch / d) * d
    exact = [flour * p / 100 for p in k["Percents"]]
    down = [math.floor(x / d) * d for x in exact]
    missing = rounded((weighed - sum(down)) / d)
    w = k["Water"]
    lost = exact[w] - down[w]
    before = 0
    for i in range(len(exact)):
        l = exact[i] - down[i]
        if l > lost or (l == lost and i < w):
            before += 1
    water_mass = down[w] + (d if before < missing else 0)
    base = 3 * k["DoughTemp"] - friction
    water = base - flour_temp - k["Room"]
    ice = hot = 0.0
    if water < tap:
        ice = rounded(water_mass * (tap - water) / (tap + 80) / d) * d
    elif water > tap:
        hot = rounded(water_mass * (water - tap) / (k["HotTap"] - tap) / d) * d
    tray_rate = strokes * k["Ratio"]
    dwell = k["Travel"] / tray_rate * 60
    runs = math.ceil(batches * per / k["Across"])
    last_in = (runs - 1) / strokes * 60
    last_out = (math.ceil((runs - 1) * k["Ratio"]) + k["Travel"]) / tray_rate * 60
    scaling = per * 60 / rate
    interval = max(scaling, k["Cycle"])
    wait = interval - scaling
    last = k["Mixing"] + last_in + (batches - 1) * wait
    return (piece, piece - baked, 100 * (piece - baked) / baked, piece - k["Tolerance"], piece + k["Tolerance"],
            mark, k["MeanMark"] + (u - half) / (1 - g), k["MeanMark"] + (u + half) / (1 - g), set_, k["MeanWeight"] + k["Slope"] * (set_ - k["MeanMark"]),
            ball, fill, ball / k["CupHigh"], ball / k["CupLow"],
            low, high, strokes, rate, 60 / strokes, dough_rate,
            largest, all_ * each, batches, per, batch, batches * batch, per * 60 / (k["Across"] * k["Cycle"]), per * piece * 3.6 / dough_rate,
            flour, weighed, water_mass, base, water, ice, hot, water_mass - ice - hot,
            dwell, k["Across"] * math.ceil(k["Travel"] / k["Ratio"]), last_in, last_out, k["Pitch"] - ball,
            scaling, interval, wait, dwell + wait * min(batches - 1, math.ceil(dwell / scaling)), (batches - 1) * interval, last, last + last_out - last_in)


def point(i):
    out = []
    for a in reversed(axes):
        out.append(a["from"] + a["step"] * (i % 10))
        i //= 10
    return out[::-1]


def arrays(np, x, out):
    """All columns of the plans x, a row of arrays each, into out."""
    tap, flour_temp, baked, friction, pieces = x
    piece = baked / (1 - k["Bake"] / 100) / (1 - k["Cooling"] / 100)
    u = (piece - k["MeanWeight"]) / k["Slope"]
    g = k["T"] * k["T"] * k["S"] * k["S"] / (k["Slope"] * k["Slope"] * k["Sxx"])
    half = k["T"] * k["S"] / abs(k["Slope"]) * np.sqrt((1 - g) / k["N"] + u * u / k["Sxx"])
    mark = k["MeanMark"] + u
    set_ = np.floor(mark / k["MarkStep"] + 0.5) * k["MarkStep"]
    out[0], out[1], out[2], out[3], out[4] = piece, piece - baked, 100 * (piece - baked) / baked, piece - k["Tolerance"], piece + k["Tolerance"]
    out[5], out[6], out[7], out[8], out[9] = mark, k["MeanMark"] + (u - half) / (1 - g), k["MeanMark"] + (u + half) / (1 - g), set_, k["MeanWeight"] + k["Slope"] * (set_ - k["MeanMark"])
    ball = np.cbrt(6000 * piece / (math.pi * k["Density"]))
    middle = (k["CupLow"] + k["CupHigh"]) / 2
    least, fill = np.full_like(ball, np.inf), np.zeros_like(ball)
    for cup in k["Cups"]:
        f = ball / cup
        better = (np.abs(f - middle) < least) & (f <= 1)
        least, fill = np.where(better, np.abs(f - middle), least), np.where(better, f, fill)
    out[10], out[11], out[12], out[13] = ball, fill, ball / k["CupHigh"], ball / k["CupLow"]
    low = max(k["Travel"] / k["Ratio"] / (k["DwellHigh"] / 60), k["StrokesLow"], k["StampsLow"])
    high = min(k["Travel"] / k["Ratio"] / (k["DwellLow"] / 60), k["StrokesHigh"], k["StampsHigh"])
    strokes = math.floor(high / k["StrokeStep"] + 1e-9) * k["StrokeStep"]
    rate = strokes * k["Across"]
    dough_rate = rate * piece * 60 / 1000
    out[14], out[15], out[16], out[17], out[18], out[19] = low, high, strokes, rate, 60 / strokes, dough_rate
    each, all_ = piece * (1 + k["Waste"] / 100), pieces + k["Spare"]
    largest = np.minimum(min(k["MixerHigh"], k["Hopper"]), k["HopperMax"] * dough_rate / 3.6 * (1 + k["Waste"] / 100))
    batches = np.ceil(all_ / np.floor(largest / each))
    per = np.ceil(all_ / batches)
    batch = per * each
    out[20], out[21], out[22], out[23], out[24], out[25] = largest, all_ * each, batches, per, batch, batches * batch
    out[26], out[27] = per * 60 / (k["Across"] * k["Cycle"]), per * piece * 3.6 / dough_rate
    flour = batch / (sum(k["Percents"]) / 100)
    d = k["Division"]
    weighed = np.floor(batch / d + 0.5) * d
    exact = [flour * p / 100 for p in k["Percents"]]
    down = [np.floor(e / d) * d for e in exact]
    missing = np.floor((weighed - sum(down)) / d + 0.5)
    w = k["Water"]
    lost = exact[w] - down[w]
    before = np.zeros_like(ball)
    for i in range(len(exact)):
        l = exact[i] - down[i]
        before += (l > lost) | ((l == lost) & (i < w))
    water_mass = down[w] + np.where(before < missing, d, 0)
    base = 3 * k["DoughTemp"] - friction
    water = base - flour_temp - k["Room"]
    ice = np.where(water < tap, np.floor(water_mass * (tap - water) / (tap + 80) / d + 0.5) * d, 0)
    hot = np.where(water > tap, np.floor(water_mass * (water - tap) / (k["HotTap"] - tap) / d + 0.5) * d, 0)
    out[28], out[29], out[30], out[31], out[32], out[33], out[34], out[35] = flour, weighed, water_mass, base, water, ice, hot, water_mass - ice - hot
    tray_rate = strokes * k["Ratio"]
    dwell = k["Travel"] / tray_rate * 60
    runs = np.ceil(batches * per / k["Across"])
    last_in = (runs - 1) / strokes * 60
    last_out = (np.ceil((runs - 1) * k["Ratio"]) + k["Travel"]) / tray_rate * 60
    out[36], out[37], out[38], out[39], out[40] = dwell, k["Across"] * math.ceil(k["Travel"] / k["Ratio"]), last_in, last_out, k["Pitch"] - ball
    scaling = per * 60 / rate
    interval = np.maximum(scaling, k["Cycle"])
    wait = interval - scaling
    last = k["Mixing"] + last_in + (batches - 1) * wait
    out[41], out[42], out[43] = scaling, interval, wait
    out[44] = dwell + wait * np.minimum(batches - 1, np.ceil(dwell / scaling))
    out[45], out[46], out[47] = (batches - 1) * interval, last, last + last_out - last_in


def two(np, tap, flour_temp, water_mass, base, out):
    """Five outputs of two temperatures: the water's columns alone."""
    d = k["Division"]
    water = base - flour_temp - k["Room"]
    ice = np.where(water < tap, np.floor(water_mass * (tap - water) / (tap + 80) / d + 0.5) * d, 0)
    hot = np.where(water > tap, np.floor(water_mass * (water - tap) / (k["HotTap"] - tap) / d + 0.5) * d, 0)
    out[0], out[1], out[2], out[3], out[4] = water_mass, water, ice, hot, water_mass - ice - hot


def least(do, part=1.0):
    """The least time of many runs: what is left when nobody else disturbs."""
    best, until = math.inf, time.perf_counter() + part * given["seconds"]
    while time.perf_counter() < until:
        start = time.perf_counter()
        do()
        best = min(best, time.perf_counter() - start)
    return best


def answer(seconds, sums, **more):
    json.dump({"ns": seconds * 1e9 / n, "sums": [float(s) for s in sums], **more}, sys.stdout)


if task == "loop":
    kept = [None] * n
    points = [point(i) for i in range(n)]

    def do():
        for i, p in enumerate(points):
            kept[i] = plan(*p)

    took = least(do)
    answer(took, [math.fsum(col) for col in zip(*kept)])

elif task in ("numpy", "two"):
    import numpy as np

    x = np.array([point(i) for i in range(n)]).T.copy()
    if task == "numpy":
        out = np.empty((len(given["columns"]), n))
        whole = lambda size: [arrays(np, x[:, i:i + size], out[:, i:i + size]) for i in range(0, n, size)]
    else:
        out = np.empty((5, n))
        whole = lambda size: [two(np, x[0, i:i + size], x[1, i:i + size], given["water_mass"], given["base"], out[:, i:i + size]) for i in range(0, n, size)]
    took = least(lambda: whole(n))
    chunks = {size: least(lambda: whole(size), 0.3) for size in (500, 1000, 2000, 5000, 10000, 20000) if size < n}
    size = min(chunks, key=chunks.get)
    answer(took, out.sum(axis=1), chunk=size, chunk_ns=chunks[size] * 1e9 / n)

elif task == "office":
    import subprocess
    import tempfile
    import uno
    from com.sun.star.beans import PropertyValue

    folder = tempfile.mkdtemp()
    pipe = "doughcompare%d" % (time.time_ns() % 1000000007)
    office = subprocess.Popen(["soffice", "--headless", "--norestore", "--nologo", "-env:UserInstallation=file://" + folder, "--accept=pipe,name=%s;urp;" % pipe],
                              stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
        for _ in range(120):
            try:
                context = resolver.resolve("uno:pipe,name=%s;urp;StarOffice.ComponentContext" % pipe)
                break
            except Exception:
                time.sleep(0.5)
        desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        hidden = PropertyValue()
        hidden.Name, hidden.Value = "Hidden", True
        doc = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, (hidden,))
        sheet = doc.Sheets.getByIndex(0)
        doc.enableAutomaticCalculation(False)
        K = lambda name: repr(float(k[name]))
        d = K("Division")
        names = ["tap", "flour", "baked", "friction", "pieces"]
        formulas = []  # (name, formula over names in braces)

        def add(name, formula):
            names.append(name)
            formulas.append(formula)

        add("piece", "{baked}/(1-%s/100)/(1-%s/100)" % (K("Bake"), K("Cooling")))
        add("u", "({piece}-%s)/%s" % (K("MeanWeight"), K("Slope")))
        g = k["T"] ** 2 * k["S"] ** 2 / (k["Slope"] ** 2 * k["Sxx"])
        add("half", "%r*SQRT(%r+{u}*{u}/%s)" % (k["T"] * k["S"] / abs(k["Slope"]), (1 - g) / k["N"], K("Sxx")))
        add("mark", "%s+{u}" % K("MeanMark"))
        add("set", "ROUND({mark}/%s;0)*%s" % (K("MarkStep"), K("MarkStep")))
        add("ball", "(6000*{piece}/(PI()*%s))^(1/3)" % K("Density"))
        middle = (k["CupLow"] + k["CupHigh"]) / 2
        best = "0"
        for cup in reversed(k["Cups"]):  # the cups are few: the nearest to the middle of those that the piece fits
            others = [c for c in k["Cups"] if c != cup]
            here = "{ball}/%r" % cup
            better = ";".join("OR({ball}/%r>1;ABS(%s-%r)<=ABS({ball}/%r-%r))" % (c, here, middle, c, middle) for c in others)
            best = "IF(AND(%s<=1;%s);%s;%s)" % (here, better, here, best)
        low = max(k["Travel"] / k["Ratio"] / (k["DwellHigh"] / 60), k["StrokesLow"], k["StampsLow"])
        high = min(k["Travel"] / k["Ratio"] / (k["DwellLow"] / 60), k["StrokesHigh"], k["StampsHigh"])
        add("low", "MAX(%r;%s;%s)" % (k["Travel"] / k["Ratio"] / (k["DwellHigh"] / 60), K("StrokesLow"), K("StampsLow")))
        add("high", "MIN(%r;%s;%s)" % (k["Travel"] / k["Ratio"] / (k["DwellLow"] / 60), K("StrokesHigh"), K("StampsHigh")))
        add("strokes", "INT({high}/%s+1E-9)*%s" % (K("StrokeStep"), K("StrokeStep")))
        add("rate", "{strokes}*%s" % K("Across"))
        add("doughrate", "{rate}*{piece}*60/1000")
        add("each", "{piece}*(1+%s/100)" % K("Waste"))
        add("all", "{pieces}+%s" % K("Spare"))
        add("largest", "MIN(%s;%s;%s*{doughrate}/3.6*(1+%s/100))" % (K("MixerHigh"), K("Hopper"), K("HopperMax"), K("Waste")))
        add("batches", "ROUNDUP({all}/INT({largest}/{each});0)")
        add("per", "ROUNDUP({all}/{batches};0)")
        add("batch", "{per}*{each}")
        add("flourmass", "{batch}/%r" % (sum(k["Percents"]) / 100))
        add("weighed", "ROUND({batch}/%s;0)*%s" % (d, d))
        for i, p in enumerate(k["Percents"]):
            add("x%d" % i, "{flourmass}*%r/100" % p)
            add("d%d" % i, "INT({x%d}/%s)*%s" % (i, d, d))
        add("missing", "ROUND(({weighed}-(%s))/%s;0)" % ("+".join("{d%d}" % i for i in range(len(k["Percents"]))), d))
        w = k["Water"]
        ranks = "+".join("(({x%d}-{d%d})%s({x%d}-{d%d}))" % (i, i, ">=" if i < w else ">", w, w) for i in range(len(k["Percents"])) if i != w)
        add("watermass", "{d%d}+IF((%s)<{missing};%s;0)" % (w, ranks, d))
        add("base", "3*%s-{friction}" % K("DoughTemp"))
        add("water", "{base}-{flour}-%s" % K("Room"))
        add("ice", "IF({water}<{tap};ROUND({watermass}*({tap}-{water})/({tap}+80)/%s;0)*%s;0)" % (d, d))
        add("hot", "IF({water}>{tap};ROUND({watermass}*({water}-{tap})/(%s-{tap})/%s;0)*%s;0)" % (K("HotTap"), d, d))
        add("trayrate", "{strokes}*%s" % K("Ratio"))
        add("dwell", "%s/{trayrate}*60" % K("Travel"))
        add("runs", "ROUNDUP({batches}*{per}/%s;0)" % K("Across"))
        add("lastin", "({runs}-1)/{strokes}*60")
        add("lastout", "(ROUNDUP(({runs}-1)*%s;0)+%s)/{trayrate}*60" % (K("Ratio"), K("Travel")))
        add("scaling", "{per}*60/{rate}")
        add("interval", "MAX({scaling};%s)" % K("Cycle"))
        add("wait", "{interval}-{scaling}")
        add("last", "%s+{lastin}+({batches}-1)*{wait}" % K("Mixing"))
        first = len(names)
        for formula in [
            "{piece}", "{piece}-{baked}", "100*({piece}-{baked})/{baked}", "{piece}-%s" % K("Tolerance"), "{piece}+%s" % K("Tolerance"),
            "{mark}", "%s+({u}-{half})/%r" % (K("MeanMark"), 1 - g), "%s+({u}+{half})/%r" % (K("MeanMark"), 1 - g), "{set}", "%s+%s*({set}-%s)" % (K("MeanWeight"), K("Slope"), K("MeanMark")),
            "{ball}", best, "{ball}/%s" % K("CupHigh"), "{ball}/%s" % K("CupLow"),
            "{low}", "{high}", "{strokes}", "{rate}", "60/{strokes}", "{doughrate}",
            "{largest}", "{all}*{each}", "{batches}", "{per}", "{batch}", "{batches}*{batch}", "{per}*60/(%s*%s)" % (K("Across"), K("Cycle")), "{per}*{piece}*3.6/{doughrate}",
            "{flourmass}", "{weighed}", "{watermass}", "{base}", "{water}", "{ice}", "{hot}", "{watermass}-{ice}-{hot}",
            "{dwell}", "%s*ROUNDUP(%r;0)" % (K("Across"), k["Travel"] / k["Ratio"]), "{lastin}", "{lastout}", "%s-{ball}" % K("Pitch"),
            "{scaling}", "{interval}", "{wait}", "{dwell}+{wait}*MIN({batches}-1;ROUNDUP({dwell}/{scaling};0))", "({batches}-1)*{interval}", "{last}", "{last}+{lastout}-{lastin}",
        ]:
            add("out%d" % len(names), formula)

        def letters(c):
            out = ""
            c += 1
            while c:
                c, r = divmod(c - 1, 26)
                out = chr(65 + r) + out
            return out

        cols = {name: letters(c) for c, name in enumerate(names)}

        def row(i):
            here = {name: "%s%d" % (c, i + 1) for name, c in cols.items()}
            return tuple("=" + f.format(**here) for f in formulas)

        sheet.getCellRangeByPosition(0, 0, 4, n - 1).setDataArray(tuple(tuple(map(float, point(i))) for i in range(n)))
        sheet.getCellRangeByPosition(5, 0, len(names) - 1, n - 1).setFormulaArray(tuple(row(i) for i in range(n)))
        doc.calculateAll()
        took = least(doc.calculateAll, 2.0)
        data = sheet.getCellRangeByPosition(first, 0, len(names) - 1, n - 1).getDataArray()
        answer(took, [math.fsum(c) for c in zip(*data)])
        sys.stdout.flush()
        doc.close(True)
        try:
            desktop.terminate()
        except Exception:
            pass
        office.wait(20)
    finally:
        if office.poll() is None:
            office.kill()
