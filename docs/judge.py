#!/usr/bin/env python3
"""A second judge of powerup's records: every reading with a rule once more, by the
window beside it. It follows FORMAT.md, section 8, and shares no code with powerup.

    judge.py RECORD...

prints a line for each record: its path, and how many readings were judged or the
first that is not judged by the rule, or why it cannot be read. It exits with 0 if all are, else with 1. It
does not look at chain or signature: verify.py does. Needs Python 3.9.
"""
import decimal, json, math, re, sys

NUMBER = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?")
KINDS = {"nothing", "volts", "ohms", "amps", "farads", "watts", "degrees Celsius", "seconds", "per cent", "metres",
         "square millimetres", "hertz", "ohms per volt", "volt-amperes", "plain numbers"}

def want(holds, words):
    if not holds:
        raise ValueError(words)

def number(text, otherwise):
    if text is None:
        return otherwise
    want(NUMBER.fullmatch(text), text + " is no number of the format")
    shortest = format(decimal.Decimal(repr(float(text))), "f").removesuffix(".0")
    want(shortest == text, text + " is not the shortest")
    return float(text)

def interval(window, name):
    ends = [window.pop(name + "-lo", None), window.pop(name + "-hi", None)]
    for end in ends:
        want(end is None or len(end.lstrip("-").replace(".", "").strip("0")) <= 6, "more than six digits")
    lo, hi = number(ends[0], -math.inf), number(ends[1], math.inf)
    want(lo <= hi, name + " holds nothing")
    return lo, hi

def part(fields, prefix):
    return {key[len(prefix):]: value for key, value in fields.items() if key.startswith(prefix)}

def judge(fields):
    """The verdict of rule 1."""
    want(fields.get("rule"), "what a rule would judge by, and no rule")
    want(fields["rule"] == "1", "a rule that is not known")
    window, shown = part(fields, "window "), part(fields, "shown ")
    within, beyond, absolute = (interval(window, name) for name in ("pass", "query", "stop"))
    want(beyond[0] <= within[0] and within[1] <= beyond[1], "what passes would be no query")
    want(set(window) == {"kind", "danger", "grade", "shown"}, "parts of the window")
    want(window["kind"] in KINDS and window["danger"] in {"low", "high", "both", "neither"}, "kind or danger")
    want(window["grade"] in {"sheet", "typical"} and window["shown"] in {"true", "false"}, "grade or shown")
    want({"x", "u", "censored"} <= set(shown) <= {"x", "u", "censored", "lo", "hi"}, "parts of the reading")
    want(shown["censored"] in {"true", "false"}, "censored")
    censored, bare = shown["censored"] == "true", fields.get("class") == "E" or window["shown"] == "true"
    x, u = number(shown["x"], None), number(shown["u"], None)
    lo, hi = number(shown.get("lo"), -math.inf), number(shown.get("hi"), math.inf)
    want(len(shown) >= (4 if censored else 5) and u >= 0 and lo <= x <= hi, "this is no reading")
    if bare and not censored:
        lo = hi = x
    low, high = (hi, lo) if censored else (lo, hi)
    if low < absolute[0] or high > absolute[1]:
        return "stop"
    if low < beyond[0] and window["danger"] in {"low", "both"} or high > beyond[1] and window["danger"] in {"high", "both"}:
        return "query" if window["grade"] == "typical" else "stop"
    if censored and not bare:
        lo, hi = lo - u, hi + u
    return "pass" if within[0] <= lo and hi <= within[1] else "query"

def reading(n, line):
    """The fields of a reading that is judged: all but words and letters; else none."""
    try:
        row = json.loads(line)
        fields = row["fields"]
        want(all(isinstance(value, str) for value in fields.values()), "a field is no text")
        if row["kind"] == "reading" and (fields.get("rule") or part(fields, "window ") or part(fields, "shown ")):
            return fields
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError) as why:
        raise ValueError("line %d: cut off, or no line of a record: %s" % (n, why)) from None

def judged(path):
    """How many readings were judged. The first fault ends it."""
    count = n = 0
    with open(path, encoding="utf-8") as lines:
        for n, line in enumerate(lines, 1):
            fields = reading(n, line)
            if fields is None:
                continue
            count += 1
            try:
                verdict, logged = judge(fields), fields.get("verdict")
                want(logged == verdict or (logged, verdict) == ("stop", "query"), "it says %s, and the rule says %s" % (logged, verdict))
            except ValueError as why:
                raise ValueError("line %d: %s" % (n, why)) from None
    want(n > 0, "there is no line in it")
    return count

if len(sys.argv) < 2:
    sys.exit(__doc__)
faults = 0
for path in sys.argv[1:]:
    try:
        print(path, "%d readings judged" % judged(path))
    except (OSError, UnicodeDecodeError) as why:
        faults += 1
        print(path, "cannot be read: %s" % why)
    except ValueError as why:
        faults += 1
        print(path, why)
sys.exit(1 if faults else 0)
