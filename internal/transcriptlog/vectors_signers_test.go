package transcriptlog

import (
	"encoding/base64"
	"slices"
	"strings"
	"testing"
	"time"
)

// signerVectors are about whose key it is. Each has a signers file of its own, and
// some a file of revoked keys. The record of those whose name begins with "claims"
// says that j.smith held the session; it was closed at 10:00:02 on 1 January 2030.
func signerVectors(t testing.TB, good, sig []byte) (all []vector) {
	t.Helper()
	one, two := testKey(t, 1), testKey(t, 2)
	key := base64.StdEncoding.EncodeToString(one.PublicKey().Marshal())
	mine, kindKey := row("j.smith", "", one), " ssh-ed25519 "+key
	claiming := rawLines(strings.Replace(openLine, `"format":"1"`, `"format":"1","operator":"j.smith"`, 1), nextLine, lastLine)
	claimed := sign(t, one, NamespaceReal, claiming)
	add := func(name, result, reason, promise, file string) *vector {
		v := vector{
			Name: "signature/signers-" + name, Signers: "signature/signers-" + name, Ending: "COMPLETE", Chain: "good",
			Result: result, Reason: reason, Promise: promise, body: good, sig: sig, signers: []byte(file),
		}
		if strings.HasPrefix(name, "claims") {
			v.body, v.sig = claiming, claimed
		}
		if result == "accepted" {
			v.Signer = "j.smith"
		}
		all = append(all, v)
		return &all[len(all)-1]
	}
	accepted := func(name, promise, file string) *vector { return add(name, "accepted", "", promise, file) }
	bad := func(name, reason, promise, row string) {
		add(name, "refused", "signers: line 2: "+reason, promise, "# one\n"+row+"\n")
	}
	forThis := Fingerprint(one.PublicKey()) + " for namespace " + NamespaceReal
	unlisted := func(name, promise, file string) {
		add(name, "unlisted", "signed by a key that you have not listed, and anybody can make one: "+forThis, promise, file)
	}
	noName := func(name, has, promise, file string) {
		add(name, "no one name", "signed by a key that is listed, but not for one name: line 1 of the signers file has it as "+has, promise, file)
	}

	// Whose, and for what.
	accepted("namespaces", "listed for this namespace among others", row("j.smith", NamespaceRelease+","+NamespaceReal, one)+"\n")
	accepted("namespaces-pattern", "listed for a pattern of namespaces", row("j.smith", "powerup-*", one)+"\n")
	unlisted("namespaces-shut-out", "listed for all namespaces but this", row("j.smith", "*,!"+NamespaceReal, one)+"\n")
	unlisted("unknown-namespace", "listed for a namespace that is not one of three", row("j.smith", "file", one)+"\n")
	unlisted("practice-alone", "listed for practice alone", row("j.smith", NamespacePractice, one)+"\n")
	accepted("comments", "comments, blank lines, tabs, and no line feed at the end", "# keys\n\n \t\n"+strings.ReplaceAll(mine, " ", " \t ")+"  bench key")
	accepted("twice", "listed twice with one name", mine+"\n"+row("j.smith", NamespaceReal, one)+"\n")
	accepted("two-keys", "one name has two keys", row("j.smith", "", two)+"\n"+mine+"\n")
	accepted("name-of-each-namespace", "another name in another namespace", row("trainer", NamespaceRelease, one)+"\n"+row("j.smith", NamespaceReal, one)+"\n")
	unlisted("empty", "nobody is listed", " \n")
	unlisted("other-key", "the signer's name stands by another key", row("j.smith", "", two)+"\n")
	unlisted("commented-out", "the row is a comment", " #"+mine+"\n")

	// By which name.
	accepted("quoted", "the name stands in quotes", `"j.smith"`+kindKey+"\n")
	accepted("claims-name", "the record claims the name that is listed", mine+"\n")
	accepted("claims-list", "the record claims one of several names", "trainer,j.smith"+kindKey+"\n")
	accepted("claims-list-quoted", "several names in quotes", `"trainer,j.smith"`+kindKey+"\n")
	accepted("claims-pattern", "a pattern holds for the name that is claimed", "j.*"+kindKey+"\n")
	accepted("claims-pattern-question", "a question mark stands for one character", "j?smith"+kindKey+"\n")
	accepted("claims-two-names", "one of two lines has the name that is claimed", row("trainer", "", one)+"\n"+mine+"\n")
	accepted("claims-other", "the one name that is listed counts, not what a record says of itself", mine+"\n").body = rawLines(openLine, nextLine, lastLine)
	all[len(all)-1].sig = sig
	const nobody, smith = `, and the record's own name is ""`, `, and the record's own name is "j.smith"`
	noName("claims-shut-out", "j.*,!j.smith"+smith, "the name that is claimed is shut out", "j.*,!j.smith"+kindKey+"\n")
	noName("claims-pattern-longer", "j?mith"+smith, "a question mark stands for no more than one character", "j?mith"+kindKey+"\n")
	noName("claims-case", "J.*"+smith, "capitals are other letters", "J.*"+kindKey+"\n")
	noName("two-names", "j.smith"+nobody, "one key with two names, and none is claimed", mine+"\n"+row("trainer", "", one)+"\n")
	for name, principal := range map[string]string{"pattern": "*", "pattern-question": "j.?mith", "list": "j.smith,trainer", "negated": "!trainer"} {
		noName(name, principal+nobody, "the name is "+principal+", and none is claimed", principal+kindKey+"\n")
	}

	// When.
	date := func(after, before string) string {
		if after != "" {
			return `j.smith valid-after="` + after + `"` + kindKey + "\n"
		}
		return `j.smith valid-before="` + before + `"` + kindKey + "\n"
	}
	outOfDate := func(name, has, promise, file string) {
		add(name, "out of date", "signed by a key that was not good at the record's own close, by the clock of its computer: line 1 of the signers file has it good "+
			has+", and it signed for 2030-01-01 10:00:02 UTC", promise, file)
	}
	accepted("until-that-second", "good until the second of the close, and with it", date("", "20300101100002Z"))
	accepted("from-that-second", "good from the second of the close on", date("20300101100002Z", ""))
	accepted("until-later", "good for some years more", date("", "20340101Z"))
	accepted("options-in-capitals", "options in capitals", "j.smith VALID-BEFORE=\"20340101Z\",Namespaces=\"powerup-transcript\""+kindKey+"\n")
	accepted("renewed", "another line is good now", date("", "20290101Z")+date("20290101Z", ""))
	outOfDate("until-the-second-before", "until 2030-01-01 10:00:01 UTC", "good until a second before the close", date("", "20300101100001Z"))
	outOfDate("from-the-second-after", "from 2030-01-01 10:00:03 UTC", "good from a second after the close on", date("20300101100003Z", ""))
	outOfDate("until-that-day", "until 2030-01-01 00:00:00 UTC", "a day is its first second", date("", "20300101UTC"))
	outOfDate("until-that-minute", "until 2030-01-01 10:00:00 UTC", "a minute is its first second", date("", "203001011000z"))

	// What is not understood.
	const kinds = "; " + kindsTaken
	badName := func(name string) string {
		return "name \"" + name + "\" is not of letters, digits, '.', '_', '@', '+', '-', with * and ? for others and ! before one that is shut out"
	}
	bad("dash-first", badName("-j.smith"), "the name looks like an option", "-j.smith"+kindKey)
	bad("comma-last", badName(""), "a comma too many", "j.smith,"+kindKey)
	bad("option", `option "restrict" is not known: want namespaces="...", valid-after="...", valid-before="...", parted by commas`, "an option that could limit the key", "j.smith restrict"+kindKey)
	bad("option-twice", "option namespaces stands there twice", "which of the two counts is not said", `j.smith namespaces="`+NamespaceReal+`",namespaces="file"`+kindKey)
	bad("option-empty", `namespaces without a value: want namespaces="`+NamespaceReal+`", or a list with commas`, "an option without a value", `j.smith namespaces=""`+kindKey)
	bad("authority", "certificates are not taken: list the signer's own key, without cert-authority", "a key that stands for other keys", "j.smith cert-authority"+kindKey)
	bad("no-key", rowForm, "a name alone", "j.smith")
	bad("other-kind", `a key of kind "ssh-rsa"`+kinds, "a key of another kind", "j.smith ssh-rsa "+key)
	bad("not-base64", "the key is not base64", "a key that cannot be read", "j.smith ssh-ed25519 "+key[:20]+"*")
	bad("other-kind-within", "the key is not one of kind ssh-ed25519", "the key's own word is another", "j.smith ssh-ed25519 "+
		base64.StdEncoding.EncodeToString([]byte(wireText("ssh-ed25518", strings.Repeat("1", 32)))))
	bad("namespaces-unquoted", `"namespaces=powerup-transcript": want options parted by commas, with their values in quotes: namespaces="powerup-transcript"`,
		"the list without quotes", "j.smith namespaces=powerup-transcript"+kindKey)
	bad("no-such-day", `"20300229Z" is no day and hour of the calendar`, "a day that there is not", `j.smith valid-before="20300229Z"`+kindKey)
	bad("date-in-words", `"tomorrow" is no date or time: want YYYYMMDD, YYYYMMDDHHMM or YYYYMMDDHHMMSS, and a Z behind it for UTC`, "a date in words", `j.smith valid-before="tomorrow"`+kindKey)
	bad("never-good", "valid-before is not after valid-after: the key would never be good", "an end before its beginning", `j.smith valid-after="20310101Z",valid-before="20300101Z"`+kindKey)
	for name, file := range map[string]string{"crlf": mine + "\r\n", "not-utf8": "# \xff\n" + mine + "\n"} {
		add(name, "refused", "signers: not plain text of at most 1 MiB with line feeds alone", "not plain text: "+name, file)
	}
	good32, wire := wireText("ssh-ed25519", strings.Repeat("1", 32)), base64.StdEncoding.EncodeToString
	for name, key := range map[string]string{"key-too-short": good32[:15] + wireText(strings.Repeat("1", 31)), "key-and-more": good32 + "1"} {
		add(name, "refused", "signers: line 2: the key is not one of kind ssh-ed25519", "a key of another line: "+name, mine+"\ntrainer ssh-ed25519 "+wire([]byte(key))+"\n")
	}
	add("bad-beside-good", "refused", "signers: line 2: "+rowForm, "a line that is not understood, and a good one", mine+"\nsomebody\n")

	// Keys that are not believed any more.
	revoked := func(name, result, reason, promise, list string) {
		v := add(name, result, reason, promise, mine+"\n")
		v.Revoked, v.revoked = v.Name+".revoked", []byte(list)
	}
	revoked("revoked", "revoked", "signed by a key that is revoked, and never believed again: "+Fingerprint(one.PublicKey()), "the signer's key is revoked", "# lost\n"+kindKey+" j.smith\n")
	revoked("revoked-other", "accepted", "", "another key is revoked", row("", "", two)+"\n")
	revoked("revoked-none", "accepted", "", "no key is revoked", "# none\n\n")
	revoked("revoked-unread", "refused", "revoked: line 1: want KIND KEY [comment], as in a .pub file", "a line that is not understood", "lost\n")
	for name, list := range map[string]string{
		"kind-unknown":      "foo " + wire([]byte(wireText("foo", "1"))),
		"kind-of-other-key": "ssh-rsa " + key,
		"cut-off":           "ssh-ed25519 AAAA",
		"and-more":          "ssh-ed25519 " + wire([]byte(good32+"1")),
	} {
		kind, _, _ := strings.Cut(list, " ")
		revoked("revoked-"+name, "refused", `revoked: line 1: want KIND KEY [comment], as in a .pub file: the key is not one of kind "`+kind+`"`, "another line that is not understood: "+name, list+"\n")
	}
	revoked("revoked-certificate", "refused", "revoked: line 1: certificates are not taken: list the key itself", "a certificate of the signer's key", string(certificate(t, 1)))
	revoked("revoked-other-kinds", "accepted", "", "keys of kinds that do not sign here", "ssh-rsa "+wire([]byte(wireText("ssh-rsa", "\x01\x00\x01", "\x00\xc1"+strings.Repeat("1", 255))))+"\n")
	revoked("revoked-binary", "refused", "revoked: a binary KRL is not read: make a plain list of it, one line a key as in its .pub file", "OpenSSH's binary list", krlMagic+"\x00\x00\x00\x01")
	slices.SortFunc(all, func(a, b vector) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// releaseVectors are about who, beside the signer, released a hold.
func releaseVectors(t testing.TB) (all []vector) {
	t.Helper()
	smith, trainer := testKey(t, 1), testKey(t, 2)
	known := row("j.smith", "", smith) + "\n" + row("trainer", NamespaceRelease, trainer) + "\n"
	add := func(name, why, promise string, signer Signer, witness, file string, change func(*Record)) {
		body := withRelease(t, signer, witness, change)
		v := vector{
			Name: "release/" + name, Signers: "release/" + name + ".signers", Ending: "COMPLETE", Chain: "good", Result: "accepted", Signer: "j.smith",
			Promise: promise, body: body, sig: sign(t, smith, NamespaceReal, body), signers: []byte(file),
		}
		if why != "" {
			v.Result, v.Signer, v.Reason = "release", "", "line 2: a hold was released: "+why
		}
		all = append(all, v)
	}
	asIs := func(*Record) {}
	const noSecond = "signed by who signed the record, and that is no second person"
	add("good", "", "released by a second person", trainer, "trainer", known, asIs)
	add("own", noSecond, "released by who signed the record", smith, "j.smith", known, asIs)
	add("own-other-key", noSecond, "released by another key of who signed the record", trainer, "j.smith", row("j.smith", "", smith)+"\n"+row("j.smith", "", trainer)+"\n", asIs)
	add("other-witness", notVerified+`the line names "anna", and trainer signed it`, "the line names another witness", trainer, "anna", known, asIs)
	add("for-records-alone", "signed by a key that you have not listed, and anybody can make one: "+Fingerprint(trainer.PublicKey())+" for namespace "+NamespaceRelease,
		"the witness may sign records alone", trainer, "trainer", row("j.smith", "", smith)+"\n"+row("trainer", NamespaceReal, trainer)+"\n", asIs)
	add("of-another-line", badCurve, "the release of another line", trainer, "trainer", known, func(r *Record) {
		armored, err := SignRelease(trainer, 3, [32]byte{})
		if err != nil {
			t.Fatal(err)
		}
		r.Fields[fieldSignature] = string(armored)
	})
	add("unsigned", "", "a release that nobody signed is one word of the operator's", trainer, "trainer", known, func(r *Record) { delete(r.Fields, fieldSignature) })
	return all
}

// withRelease is a record whose line 2 is a release that somebody signed.
func withRelease(t testing.TB, signer Signer, witness string, change func(*Record)) []byte {
	t.Helper()
	d := &badDisk{}
	l := &Log{f: d}
	at := Stamp{Wall: time.Date(2030, 1, 1, 10, 0, 0, 0, time.UTC)}
	write := func(r Record) {
		if err := l.Append(at, r); err != nil {
			t.Fatal(err)
		}
	}
	write(Record{Kind: "open", Fields: map[string]string{"format": Format, "operator": "j.smith"}})
	armored, err := SignRelease(signer, 2, nextPrev(l))
	if err != nil {
		t.Fatal(err)
	}
	r := Record{Kind: KindReleased, Fields: map[string]string{"hold": "hold-1", fieldWitness: witness, fieldSignature: string(armored)}}
	change(&r)
	write(r)
	write(Record{Kind: KindClose, Fields: map[string]string{}})
	return d.written
}
