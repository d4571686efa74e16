"""Writes strd-univariate.json and strd-anova.json: data and certified values of the NIST Statistical Reference Datasets.

Certified values are those of the file headers. The data are the published ones: PiDigits by mpmath (with the slip of the file), Michelso from R
(`morley`, the same readings), NumAcc and SmLs by the rule of their files, SiRstv and AtmWtAg from the copies that SciPy
keeps among its tests. Each is recomputed here from its decimals in exact fractions and must meet its certified values;
`ofDoubles` is the exact statistic of the doubles that the decimals become, the most that any double program can see.

Run by hand: python3 test/published/make-strd.py  (needs mpmath, SciPy and R; tests read the files it wrote).
"""
import json
import pathlib
import subprocess
from fractions import Fraction

import mpmath as m
import scipy

m.mp.dps = 60
HERE = pathlib.Path(__file__).parent

LOTTERY = """162 671 933 414 788 730 817 33 536 875 670 236 473 167 877 980 316 950 456 92 517 557 956 954 104 178 794 278
147 773 437 435 502 610 582 780 689 562 964 791 28 97 848 281 858 538 660 972 671 613 867 448 738 966 139 636 847 659 754 243
122 455 195 968 793 59 730 361 574 522 97 762 431 158 429 414 22 629 788 999 187 215 810 782 47 34 108 986 25 644 829 630 315
567 919 331 207 412 242 607 668 944 749 168 864 442 533 805 372 63 458 777 416 340 436 140 919 350 510 572 905 900 85 389 473
758 444 169 625 692 140 897 672 288 312 860 724 226 884 508 976 741 476 417 831 15 318 432 241 114 799 955 833 358 935 146 630
830 440 642 356 373 271 715 367 393 190 669 8 861 108 795 269 590 326 866 64 523 862 840 219 382 998 4 628 305 747 247 34 747
729 645 856 974 24 568 24 694 608 480 410 729 947 293 53 930 223 203 677 227 62 455 387 318 562 242 428 968""".split()
LEW = """-213 -564 -35 -15 141 115 -420 -360 203 -338 -431 194 -220 -513 154 -125 -559 92 -21 -579 -52 99 -543 -175 162 -457
-346 204 -300 -474 164 -107 -572 -8 83 -541 -224 180 -420 -374 201 -236 -531 83 27 -564 -112 131 -507 -254 199 -311 -495 143
-46 -579 -90 136 -472 -338 202 -287 -477 169 -124 -568 17 48 -568 -135 162 -430 -422 172 -74 -577 -13 92 -534 -243 194 -355
-465 156 -81 -578 -64 139 -449 -384 193 -198 -538 110 -44 -577 -6 66 -552 -164 161 -460 -344 205 -281 -504 134 -28 -576 -118
156 -437 -381 200 -220 -540 83 11 -568 -160 172 -414 -408 188 -125 -572 -32 139 -492 -321 205 -262 -504 142 -83 -574 0 48 -571
-106 137 -501 -266 190 -391 -406 194 -186 -553 83 -13 -577 -49 103 -515 -280 201 300 -506 131 -45 -578 -80 138 -462 -361 201
-211 -554 32 74 -533 -235 187 -372 -442 182 -147 -566 25 68 -535 -244 194 -351 -463 174 -125 -570 15 72 -550 -190 172 -424
-385 198 -218 -536 96""".split()
MAVRO = """2.00180 2.00170 2.00180 2.00190 2.00180 2.00170 2.00150 2.00140 2.00150 2.00150 2.00170 2.00180 2.00180 2.00190
2.00190 2.00210 2.00200 2.00160 2.00140 2.00130 2.00130 2.00150 2.00150 2.00160 2.00150 2.00140 2.00130 2.00140 2.00150
2.00140 2.00150 2.00160 2.00150 2.00160 2.00190 2.00200 2.00200 2.00210 2.00220 2.00230 2.00240 2.00250 2.00270 2.00260
2.00260 2.00260 2.00270 2.00260 2.00250 2.00240""".split()


def michelso():
    speeds = subprocess.run(["Rscript", "-e", "cat(morley$Speed)"], capture_output=True, text=True, check=True).stdout.split()
    return [f"{299 + int(speed) // 1000}.{int(speed) % 1000:03d}" for speed in speeds]


def pi_digits():
    """The published file has a slip: place 957 is an 8 in pi and a 3 there, and the certified values are those of the 3."""
    with m.workdps(5020):
        found = list(m.nstr(m.pi, 5010).replace(".", "")[:5000])
    found[956] = "3"
    return found


def pairs(first, low, high, count):
    return [first] + [low, high] * count


UNIVARIATE = [
    ("PiDigits", "lower", pi_digits(), "4.53480000000000", "2.86733906028871", "-0.00355099287237972"),
    ("Lottery", "lower", LOTTERY, "518.958715596330", "291.699727470969", "-0.120948622967393"),
    ("Lew", "lower", LEW, "-177.435000000000", "277.332168044316", "-0.307304800605679"),
    ("Mavro", "lower", MAVRO, "2.00185600000000", "0.000429123454003053", "0.937989183438248"),
    ("Michelso", "lower", michelso(), "299.852400000000", "0.0790105478190518", "0.535199668621283"),
    ("NumAcc1", "lower", ["10000001", "10000003", "10000002"], "10000002", "1", "-0.5"),
    ("NumAcc2", "lower", pairs("1.2", "1.1", "1.3", 500), "1.2", "0.1", "-0.999"),
    ("NumAcc3", "average", pairs("1000000.2", "1000000.1", "1000000.3", 500), "1000000.2", "0.1", "-0.999"),
    ("NumAcc4", "higher", pairs("10000000.2", "10000000.1", "10000000.3", 500), "10000000.2", "0.1", "-0.999"),
]


def moments(values):
    n = len(values)
    centre = sum(values) / n
    differences = [value - centre for value in values]
    squares = sum(d * d for d in differences)
    lagged = sum(a * b for a, b in zip(differences, differences[1:]))
    return fraction(centre), m.sqrt(fraction(squares) / (n - 1)), fraction(lagged) / fraction(squares)


def fraction(value):
    return m.mpf(value.numerator) / value.denominator


def digits(value):
    return float(m.nstr(value, 17))


def must_meet(name, got, certified, digits_given=14):
    wanted = m.mpf(certified)
    if abs(got - wanted) > abs(wanted) * m.mpf(10) ** -digits_given:
        raise SystemExit(f"{name}: {m.nstr(got, 17)} where {certified} is certified")


def univariate():
    sets = []
    for name, difficulty, data, mean, sd, lag in UNIVARIATE:
        for what, got, certified in zip(("mean", "sd", "lag-1"), moments([Fraction(text) for text in data]), (mean, sd, lag)):
            must_meet(f"{name} {what}", got, certified)
        centre, spread, correlation = moments([Fraction(float(text)) for text in data])
        rule = {"first": float(data[0]), "low": float(data[1]), "high": float(data[2]), "pairs": (len(data) - 1) // 2} if len(data) == 1001 else None
        sets.append({
            "name": name, "difficulty": difficulty, **({"rule": rule} if rule else {"digits": "".join(data)} if name == "PiDigits" else {"values": [float(text) for text in data]}),
            "certified": {"mean": float(mean), "sd": float(sd), "lagOne": float(lag)},
            "ofDoubles": {"mean": digits(centre), "sd": digits(spread), "lagOne": digits(correlation)},
        })
    return sets


def one_way(groups):
    everything = [value for group in groups for value in group]
    grand = sum(everything) / len(everything)
    means = [sum(group) / len(group) for group in groups]
    between = sum(len(group) * (mean - grand) ** 2 for group, mean in zip(groups, means))
    within = sum((value - mean) ** 2 for group, mean in zip(groups, means) for value in group)
    df = len(groups) - 1, len(everything) - len(groups)
    f = (between / df[0]) / (within / df[1])
    return fraction(between), fraction(within), fraction(f)


def anova():
    sets = []
    folder = pathlib.Path(scipy.__file__).parent / "stats/tests/data/nist_anova"
    for name, difficulty in [("SiRstv", "lower"), ("SmLs01", "lower"), ("SmLs02", "lower"), ("SmLs03", "lower"), ("AtmWtAg", "average"), ("SmLs04", "average"), ("SmLs05", "average"), ("SmLs06", "average"), ("SmLs07", "higher"), ("SmLs08", "higher"), ("SmLs09", "higher")]:
        lines = (folder / f"{name}.dat").read_text().splitlines()
        between = next(line.split() for line in lines if line.startswith("Between"))[-4:]
        within = next(line.split() for line in lines if line.startswith("Within"))[-3:]
        groups = {}
        for line in lines[60:]:
            if line.strip():
                label, text = line.split()
                groups.setdefault(label, []).append(text)
        decimals = list(groups.values())
        for what, got, certified in zip(("between", "within", "F"), one_way([[Fraction(t) for t in g] for g in decimals]), (between[1], within[1], between[3])):
            must_meet(f"{name} {what}", got, certified)
        doubles = one_way([[Fraction(float(t)) for t in g] for g in decimals])
        if name.startswith("SmLs"):
            rules = [{"first": float(g[0]), "low": float(g[1]), "high": float(g[2]), "pairs": (len(g) - 1) // 2} for g in decimals]
            if [pairs(g[0], g[1], g[2], (len(g) - 1) // 2) for g in decimals] != decimals:
                raise SystemExit(f"{name} does not follow its rule")
            data = {"rules": rules}
        else:
            data = {"groups": [[float(t) for t in g] for g in decimals]}
        sets.append({
            "name": name, "difficulty": difficulty, **data,
            "certified": {"df": [int(between[0]), int(within[0])], "between": float(between[1]), "within": float(within[1]), "f": float(between[3])},
            "ofDoubles": {"between": digits(doubles[0]), "within": digits(doubles[1]), "f": digits(doubles[2])},
        })
    return sets


def write(file, sets):
    rows = ",\n".join("    " + json.dumps(row) for row in sets)
    (HERE / file).write_text('{\n  "source": "NIST Statistical Reference Datasets; see make-strd.py",\n  "sets": [\n' + rows + "\n  ]\n}\n")


write("strd-univariate.json", univariate())
write("strd-anova.json", anova())
