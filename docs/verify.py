#!/usr/bin/env python3
"""A second reader of powerup's records: chain, spelling, ending and signature. It
follows FORMAT.md and shares no code with powerup. It does not judge readings again.

    verify.py [--practice] ALLOWED_SIGNERS RECORD...

prints a line for each record: its path, its ending, the first bad line (0: none),
and "accepted NAME" or why not. It exits with 0 if all were accepted, else with 1.
Needs Python 3.8 and ssh-keygen.
"""
import base64, datetime, hashlib, json, os, re, subprocess, sys

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
SPACES = {"powerup-transcript", "powerup-practice", "powerup-release"}
NAME = re.compile("[A-Za-z0-9._@+][A-Za-z0-9._@+-]{0,127}")

def want(holds, words):
    if not holds:
        raise ValueError(words)

def parse(raw):
    m = LINE.fullmatch(raw.decode("utf-8"))
    want(m, "not a line of the format")
    prev, seq, practice, year, *clock, mono, kind, fields = m.groups()
    for escape in re.findall(r"\\u(....)|\\.", fields):
        c = chr(int(escape or "0", 16))
        want(re.match("[%s]" % HIDDEN, c) and c not in "\n\r\t", "an escape that is not used")
    pairs = json.loads(fields, object_pairs_hook=list) or []
    keys = [key.encode() for key, _ in pairs]
    want(keys == sorted(set(keys)), "keys do not rise")
    datetime.datetime(int(year) % 400 + 400, *map(int, clock))  # which has no year 0
    want(len(mono) < 14 and int(mono) <= 9_223_372_036_854, "mono is too large")
    return prev, seq, practice, kind, dict(pairs)

def follow(lines, tail):  # kinds and practice mark of the lines before the first bad one, and why it is bad
    before, first, kinds = "0" * 64, None, []
    try:
        for n, raw in enumerate(lines, 1):
            want("close" not in kinds, "bytes after the close line")
            want(len(raw) <= MAX_LINE and n <= MAX_LINES, "too long")
            prev, seq, practice, kind, fields = parse(raw)
            want(seq == str(n) and prev == before, "it does not follow")
            want(n > 1 or kind not in ("close", "recovered"), "nothing to close or to recover")
            want(n > 1 or fields.get("format", "1") == "1", "another format")
            want(first in (None, practice), "its practice mark is not that of line 1")
            told = all(fields.get(k) for k in ("torn_file", "torn_bytes", "torn_sha256"))
            want(kind != "recovered" or told, "it does not tell what was torn")
            before, first = hashlib.sha256(raw).hexdigest(), practice
            kinds.append(kind)
        want(kinds, "no whole line")
        want(not tail or "close" not in kinds and len(tail) <= MAX_LINE, "a tail that cannot stand here")
        return kinds, first, ""
    except ValueError as why:
        return kinds, first, str(why)

def ending(b):  # the ending, the first bad line, why, and the practice mark
    if len(b) > MAX_FILE:
        return "BROKEN", 0, "the file is too long", None
    *lines, tail = b.split(b"\n")
    kinds, practice, why = follow(lines, tail)
    if why:
        return "BROKEN", len(kinds) + 1, why, practice
    if "close" in kinds:
        return "COMPLETE", 0, "", practice
    return "RECOVERED" if tail or "recovered" in kinds else "OPEN", 0, "", practice

def texts(blob, count):  # each after its length, and nothing behind them
    for _ in range(count):
        end = 4 + int.from_bytes(blob[:4], "big")
        want(len(blob) >= max(end, 4), "a part is cut off")
        yield blob[4:end]
        blob = blob[end:]
    want(not blob, "bytes behind the last part")

def decoded(digits):
    blob = base64.b64decode(digits, validate=True)
    want(base64.b64encode(blob) == digits, "stray bits in base64")
    return blob

def ed25519(blob, size):
    kind, raw = list(texts(blob, 2))
    want(kind == b"ssh-ed25519" and len(raw) == size, "not of kind ssh-ed25519")
    return raw

def key_of(path, namespace):  # the key that the signature says it is by
    armoured = open(path, "rb").read(MAX_SIG + 1)
    m = ARMOUR.fullmatch(armoured)
    want(m and len(armoured) <= MAX_SIG, "not one signature and nothing else")
    blob = decoded(m[1].replace(b"\n", b""))
    want(blob[:10] == b"SSHSIG\x00\x00\x00\x01", "not version 1 of a signature")
    key, space, reserved, digest, sig = list(texts(blob[10:], 5))
    want(space == namespace.encode() and not reserved, "another namespace, or a reserved part")
    want(digest in (b"sha512", b"sha256"), "another hash")
    ed25519(key, 32)
    want(int.from_bytes(ed25519(sig, 64)[32:], "little") < ORDER, "S is too large")
    return key

def listed(path):  # the names in a signers file by namespace and key
    raw, names = open(path, "rb").read(MAX_SIGNERS + 1), {}
    text = raw.decode("utf-8")
    want(len(raw) <= MAX_SIGNERS and not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f]", text), "signers: not plain text")
    for line in (row for row in text.split("\n") if row.strip(" \t") and row[0] != "#"):
        name, *words = re.split("[ \t]+", line.strip(" \t"))
        spaces = SPACES
        if words and words[0].startswith("namespaces="):
            m = re.fullmatch('namespaces="(.*)"', words.pop(0))
            spaces = set(m[1].split(",")) if m else {""}
        want(NAME.fullmatch(name) and spaces <= SPACES, "signers: name or namespaces")
        want(len(words) > 1 and words[0] == "ssh-ed25519", "signers: not of the subset")
        key = decoded(words[1].encode())
        ed25519(key, 32)
        for space in spaces:
            want(names.setdefault((space, key), name) == name, "signers: a key with two names")
    return names

def result(path, end, practice, asked, signers):  # by whom it is signed, or why it is not accepted
    namespace = "powerup-practice" if practice else "powerup-transcript"
    if practice != asked:
        return "practice" if practice else "real"
    if not os.path.exists(path + ".sig"):
        return "unsigned" if end == "COMPLETE" else "open"
    try:
        want(end == "COMPLETE", "signed before it was closed")
        key, names = key_of(path + ".sig", namespace), listed(signers)
        name = names.get((namespace, key))
        check = ["verify", "-f", signers, "-I", name] if name else ["check-novalidate"]
        command = ["ssh-keygen", "-Y", *check, "-n", namespace, "-s", path + ".sig"]
        code = subprocess.run(command, stdin=open(path, "rb"), capture_output=True).returncode
        want(code == 0, "ssh-keygen says no")
    except ValueError as why:
        return "refused: %s" % why
    return "accepted " + name if name else "unlisted"

practice = sys.argv[1:2] == ["--practice"]
signers, *paths = sys.argv[1 + practice:] or sys.exit(__doc__)
said = []
for path in paths:
    end, bad, why, mark = ending(open(path, "rb").read(MAX_FILE + 1))
    said.append("broken: " + why if end == "BROKEN" else result(path, end, mark == "true", practice, signers))
    print(path, end, bad, said[-1])
sys.exit(0 if said and all(s.startswith("accepted ") for s in said) else 1)
