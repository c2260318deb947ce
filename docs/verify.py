#!/usr/bin/env python3
"""A second reader of powerup's records: chain, spelling, ending and signature, by FORMAT.md
alone. It judges no reading again and checks no signed release. It needs ssh-keygen.
    verify.py [--practice] ALLOWED_SIGNERS REVOKED RECORD...
REVOKED lists revoked keys (/dev/null: none). For each record it prints path, ending, first bad
line (0: none), and "accepted NAME" or why not; it exits with 0 if all are accepted."""
import base64, calendar, datetime, hashlib, json, os, re, subprocess, sys, tempfile, time

MAX_LINE, MAX_LINES, MAX_FILE, MAX_SIG, MAX_SIGNERS = 1 << 20, 100_000, 268_435_456, 16_384, 1 << 20
HIDDEN = "\x00-\x1f\x7f-\x9f\u061c\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff"
CHAR = r'(?:[^"\\%s]|\\["\\nrt]|\\u[0-9a-f]{4})' % HIDDEN
PAIR = '"%s+":"%s*"' % (CHAR, CHAR)
LINE = re.compile(
    '{"prev":"([0-9a-f]{64})","seq":([1-9][0-9]*),"practice":(true|false),'
    r'"time":"([0-9]{4})-([0-9]{2})-([0-9]{2})T([0-9]{2}):([0-9]{2}):([0-9]{2})\.[0-9]{3}Z",'
    r'"mono":(0|[1-9][0-9]*),"kind":"([a-z0-9._-]{1,64})","fields":({(?:%s(?:,%s)*)?})}' % (PAIR, PAIR))
ARMOUR = re.compile(b"-----BEGIN SSH SIGNATURE-----\n([A-Za-z0-9+/=\n]+)\n-----END SSH SIGNATURE-----\n?")
ORDER = 2**252 + 27742317777372353535851937790883648493  # of the group of Ed25519
ED, TOKEN, TOKEN_P256 = b"ssh-ed25519", b"sk-ssh-ed25519@openssh.com", b"sk-ecdsa-sha2-nistp256@openssh.com"
PARTS = {ED: [32], TOKEN: [32, None], TOKEN_P256: [b"nistp256", 65, None]}  # lengths, the bytes, or any
NAME, OPTION = "!?[A-Za-z0-9._@+*?][A-Za-z0-9._@+*?-]{0,127}", r'[A-Za-z-]+="[^"\\]*"'
KIND = r"ssh-(?:rsa|dss|ed25519)|ecdsa-sha2-nistp(?:256|384|521)|sk-(?:ssh-ed25519|ecdsa-sha2-nistp256)@openssh\.com"
KEY = r"(%s)[ \t]+([!-~]+)(?:[ \t].*)?" % KIND
ROW = r'("?)(%s(?:,%s)*)\1[ \t]+(?:(%s(?:,%s)*)[ \t]+)?%s' % (NAME, NAME, OPTION, OPTION, KEY)
DOUBTS = "practice", "real", "unsigned", "open", "revoked", "unlisted", "out of date", "no one name"

def want(holds, words):
    if not holds:
        raise ValueError(words)

def parse(raw):
    m = LINE.fullmatch(raw.decode("utf-8"))
    want(m, "not a line of the format")
    prev, seq, practice, year, *clock, mono, kind, fields = m.groups()
    escaped = [chr(int(digits or "0", 16)) for digits in re.findall(r"\\u(....)|\\.", fields)]
    want(all(re.match("[%s]" % HIDDEN, c) and c not in "\n\r\t" for c in escaped), "an escape that is not used")
    pairs = json.loads(fields, object_pairs_hook=list) or []
    want([key for key, _ in pairs] == sorted(dict(pairs)), "keys do not rise")
    datetime.datetime(int(year) % 400 + 400, *map(int, clock))  # which has no year 0
    want(len(mono) < 14 and int(mono) <= 9_223_372_036_854, "mono is too large")
    return prev, seq, practice == "true", kind, dict(pairs), year + "".join(clock)

def follow(lines, good):  # fills in the lines before the first bad one
    before = "0" * 64
    for n, raw in enumerate(lines[:-1], 1):
        want(not good or good[-1][3] != "close", "bytes after the close line")
        want(len(raw) <= MAX_LINE and n <= MAX_LINES, "too long")
        prev, seq, practice, kind, fields, _ = line = parse(raw)
        want(seq == str(n) and prev == before, "it does not follow")
        want(n > 1 or kind not in ("close", "recovered") and fields.get("format", "1") == "1", "not a beginning")
        want(n == 1 or practice == good[0][2], "its practice mark is not that of line 1")
        want(kind != "recovered" or all(fields.get("torn_" + k) for k in ("file", "bytes", "sha256")), "torn, and not told")
        before = hashlib.sha256(raw).hexdigest()
        good.append(line)
    want(good and (not lines[-1] or good[-1][3] != "close" and len(lines[-1]) <= MAX_LINE), "no line, or no tail")

def split(blob, count):  # so many texts, each after its length, and what is behind them
    end = 4 + int.from_bytes(blob[:4], "big")
    want(len(blob) >= max(end, 4), "a part is cut off")
    return (blob[4:end], *(split(blob[end:], count - 1) if count > 1 else [blob[end:]]))

def decoded(digits):
    blob = base64.b64decode(digits, validate=True)
    want(base64.b64encode(blob) == digits, "stray bits in base64")
    return blob

def public(kind, digits):  # the key of a line; one that can sign has the parts of its kind, and nothing behind
    blob, form = decoded(digits.encode()), [kind.encode(), *PARTS.get(kind.encode(), [])]
    *parts, rest = split(blob, len(form))
    fits = all(part in (None, found, len(found)) for part, found in zip(form, parts))
    want(fits and bool(rest) == (form[0] not in PARTS), "not a key of its kind")
    return blob

def signed_by(armoured, message, space):  # the key that has signed the message
    m = ARMOUR.fullmatch(armoured)
    want(m and len(armoured) <= MAX_SIG, "not one signature and nothing else")
    key, name, reserved, digest, signature, behind = split(decoded(m[1].replace(b"\n", b""))[10:], 5)
    kind, made, flags = split(signature, 2)
    want(name == space.encode() and digest in (b"sha512", b"sha256") and kind in PARTS, "not one of ours")
    want(len(flags) == 0 if kind == ED else len(flags) == 5 and flags[0] & 1, "no flags, or not touched")
    *numbers, rest = split(made, 2) if kind == TOKEN_P256 else (b"\x01", made[64:])
    want(all(b"\x00\x80" <= n < b"\x80" for n in numbers) and not reserved + behind + rest, "a second spelling")
    want(kind == TOKEN_P256 or int.from_bytes(made[32:], "little") < ORDER, "S is too large")
    with tempfile.NamedTemporaryFile(buffering=0) as f:
        f.write(armoured)
        command = "ssh-keygen", "-Y", "check-novalidate", "-n", space, "-s", f.name
        want(not subprocess.run(command, input=message, capture_output=True).returncode, "ssh-keygen says no")
    return key

def rows(path, pattern):  # the groups of each line of a signers file, or of a list of revoked keys
    raw = open(path, "rb").read(MAX_SIGNERS + 1)
    want(len(raw) <= MAX_SIGNERS and not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", raw.decode()), "not plain text")
    found = [re.fullmatch(pattern, row) for line in raw.decode().split("\n") if (row := line.strip(" \t")) and row[0] != "#"]
    want(all(found), "signers: a line that is not understood")
    return [m.groups() for m in found]

def seconds(date, strict):  # where the computer's own zone has summer time, the stricter of two
    m = re.fullmatch("([0-9]{8}|[0-9]{12}|[0-9]{14})(Z|UTC)?", date, re.I)
    want(m and date >= "1971", "signers: not a date")
    at = datetime.datetime.strptime(m[1].ljust(14, "0"), "%Y%m%d%H%M%S").timetuple()
    return calendar.timegm(at) if m[2] else strict(time.mktime((*at[:8], summer)) for summer in (0, -1))

def listed(path):  # names, namespaces, first and last second, and key of each line
    for _, names, options, kind, digits in rows(path, ROW):
        once = {k.lower(): v for k, v in re.findall('([A-Za-z-]+)="(.*?)"', options or "")}
        given = {"namespaces": "*", "valid-after": "19710101Z", "valid-before": "99991231Z", **once}
        want(len(given) == 3 and len(once) == (options or "").count('="') and given["namespaces"], "signers: options")
        after, before = seconds(given["valid-after"], max), seconds(given["valid-before"], min)
        want(after < before and kind.encode() in PARTS, "signers: dates, or a kind of key that does not sign")
        yield names, given["namespaces"], after, before, public(kind, digits)

def matches(word, patterns):
    likes = [(p[:1] == "!", re.escape(p[p[:1] == "!":])) for p in patterns.split(",")]
    return {no for no, p in likes if re.fullmatch(p.replace(r"\*", ".*").replace(r"\?", "."), word)} == {False}

def owner(key, space, claim, clock, signers, revoked):
    lines = [line for line in listed(signers) if line[4] == key and matches(space, line[1])]
    want(key not in [public(*row) for row in rows(revoked, KEY)], "revoked: whenever it signed")
    want(lines, "unlisted: by nobody's key")
    lines = [line for line in lines if line[2] <= seconds(clock + "Z", max) <= line[3]]
    want(lines, "out of date: at the record's close")
    plain = re.fullmatch("[A-Za-z0-9._@+][A-Za-z0-9._@+-]{0,127}", claim)
    names = {claim for line in lines if plain and matches(claim, line[0])} or {line[0] for line in lines}
    want(len(names) == 1 and not set("!*?,") & set(*names), "no one name: the key has more, or patterns")
    return names.pop()

def said(path, asked, *lists):  # the ending, the first bad line, and the result
    good, end = [], "UNREAD"
    try:
        raw, end = open(path, "rb").read(MAX_FILE + 1), "BROKEN"
        want(len(raw) <= MAX_FILE, "the file is too long")
        follow(raw.split(b"\n"), good)
        kinds, practice, names = [line[3] for line in good], good[0][2], good[0][4]
        end = "COMPLETE" if kinds[-1] == "close" else "RECOVERED" if raw[-1:] != b"\n" or "recovered" in kinds else "OPEN"
        want(practice == asked, "practice" if practice else "real")
        want(os.path.exists(path + ".sig"), "unsigned" if end == "COMPLETE" else "open")
        want(end == "COMPLETE", "signed before it was closed")
        space = "powerup-practice" if practice else "powerup-transcript"
        key = signed_by(open(path + ".sig", "rb").read(MAX_SIG + 1), raw, space)
        return end, 0, "accepted " + owner(key, space, names.get("operator", ""), good[-1][5], *lists)
    except (ValueError, OSError) as why:
        bad = len(good) + 1 if end == "BROKEN" and len(raw) <= MAX_FILE else 0
        doubt = "" if str(why).startswith(DOUBTS) else "refused: "
        return end, bad, {"UNREAD": "unread: ", "BROKEN": "broken: "}.get(end, doubt) + str(why)

practice = sys.argv[1:2] == ["--practice"]
signers, revoked, *paths = sys.argv[1 + practice:] if len(sys.argv) > 3 + practice else sys.exit(__doc__)
results = [(path, *said(path, practice, signers, revoked)) for path in paths]
print(*(" ".join(map(str, r)) for r in results), sep="\n")
sys.exit(not all(r[3].startswith("accepted ") for r in results))
