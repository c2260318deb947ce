package crashdisk

import (
	"maps"
	"path/filepath"
	"slices"
)

// Fate is what becomes, at a loss of power, of all that was not forced to the
// disk.
type Fate struct {
	Name  string
	names bool // new names are there
	// data gives what a file may hold, of what was forced to the disk and what a
	// program saw.
	data func(forced, seen []byte) [][]byte
}

// Fates are all ways that are tried.
var Fates = []Fate{
	{"all of it kept", true, func(_, seen []byte) [][]byte { return [][]byte{seen} }},
	{"all of it dropped", false, func(forced, _ []byte) [][]byte { return [][]byte{forced} }},
	{"names kept, bytes dropped", true, func(forced, _ []byte) [][]byte { return [][]byte{forced} }},
	{"bytes kept, names dropped", false, func(_, seen []byte) [][]byte { return [][]byte{seen} }},
	{"torn at 512 bytes", true, func(forced, seen []byte) [][]byte { return torn(forced, seen, 512) }},
	{"torn at 4096 bytes", true, func(forced, seen []byte) [][]byte { return torn(forced, seen, 4096) }},
	{"length first, bytes dropped", true, lengthFirst},
	{"later blocks of 4096 bytes first", true, func(forced, seen []byte) [][]byte { return laterFirst(forced, seen, 4096) }},
	{"later blocks of 512 bytes first", true, func(forced, seen []byte) [][]byte { return laterFirst(forced, seen, 512) }},
}

// torn gives each beginning of what was appended that ends at a border of blocks.
func torn(forced, seen []byte, block int) (all [][]byte) {
	for _, at := range borders(forced, seen, block) {
		all = append(all, seen[:at])
	}
	return all
}

// lengthFirst is a file that has grown before its bytes came.
func lengthFirst(forced, seen []byte) [][]byte {
	if len(seen) <= len(forced) {
		return nil
	}
	b := make([]byte, len(seen))
	copy(b, forced)
	return [][]byte{b}
}

// laterFirst gives files of full length in which the blocks before a border have
// not come yet.
func laterFirst(forced, seen []byte, block int) (all [][]byte) {
	for _, at := range borders(forced, seen, block) {
		b := slices.Clone(seen)
		clear(b[len(forced):at])
		all = append(all, b)
	}
	return all
}

// borders are the borders of blocks within what was appended.
func borders(forced, seen []byte, block int) (all []int) {
	for at := (len(forced)/block + 1) * block; at < len(seen); at += block {
		all = append(all, at)
	}
	return all
}

// After gives the disks that there may be after a loss of power behind the first
// n calls.
func (d *Disk) After(n int, fate Fate) []*Disk {
	d.mu.Lock()
	defer d.mu.Unlock()
	forced, seen := map[*node][]byte{}, map[*node][]byte{}
	for _, f := range d.start {
		forced[f], seen[f] = f.synced, slices.Clone(f.synced)
	}
	kept, now := maps.Clone(d.start), maps.Clone(d.start)
	for _, c := range d.calls[:n] {
		c.on(forced, seen, now)
		if c.Op == "folder" {
			forceNames(kept, now, c.Name)
		}
	}
	if fate.names {
		kept = now
	}
	return disks(kept, forced, seen, fate)
}

// on does the call to the bytes and names.
func (c Call) on(forced, seen map[*node][]byte, names map[string]*node) {
	switch c.Op {
	case "create", "mkdir":
		names[c.Name] = c.file
	case "rename":
		delete(names, c.from)
		names[c.Name] = c.file
	case "remove":
		delete(names, c.Name)
	case "write":
		seen[c.file] = append(seen[c.file], c.data...)
	case "truncate": // what was forced may be the same bytes
		seen[c.file] = slices.Clone(seen[c.file][:c.size])
	case "sync":
		forced[c.file] = seen[c.file]
	}
}

// forceNames makes the names in a folder those that a program sees.
func forceNames(kept, now map[string]*node, folder string) {
	in := func(name string, _ *node) bool { return filepath.ToSlash(filepath.Dir(name)) == folder && name != "/" }
	maps.DeleteFunc(kept, in)
	for name, n := range now {
		if in(name, n) {
			kept[name] = n
		}
	}
}

// disks are new disks with what is left of each file: one for each thing that
// may be left of one of them, and there is never more than one open to doubt.
func disks(names map[string]*node, forced, seen map[*node][]byte, fate Fate) (all []*Disk) {
	left := map[*node][][]byte{}
	most := 0
	for _, n := range names {
		left[n] = [][]byte{forced[n]}
		if len(forced[n]) != len(seen[n]) {
			left[n] = fate.data(forced[n], seen[n])
		}
		most = max(most, len(left[n]))
		if len(left[n]) == 0 {
			return nil // this fate needs more bytes than are open to doubt
		}
	}
	for i := range most {
		survived := map[string]*node{}
		for name, n := range names {
			b := slices.Clone(left[n][min(i, len(left[n])-1)])
			survived[name] = &node{folder: n.folder, data: b, synced: b, mode: n.mode}
		}
		all = append(all, with(survived))
	}
	return all
}
