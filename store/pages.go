package store

import (
	"bytes"
	"encoding/binary"
	"hash/fnv"
	"io"

	"bay.example/pawl/job/phrase"
)

// bbolt trusts the pages of its file: damage to them shows as a panic, a bus error, an endless loop
// or as wrong data. checkPages therefore walks them with plain reads before bbolt maps the file,
// and a file that fails is never handed on. The page form is that of bbolt's version 2.

const (
	pageHeader   = 16
	elementSize  = 16
	bucketHeader = 16
	metaSum      = 56 // the checksum of a meta page covers what stands before it
	metaSize     = 64

	flagBranch   = 0x01
	flagLeaf     = 0x02
	flagFreelist = 0x10

	boltMagic   = 0xED0CDAED
	boltVersion = 2

	noFreelist = ^uint64(0)
	maxDepth   = 64
)

var order = binary.NativeEndian // bbolt writes numbers as the computer holds them

// metaPage is one of the two pages that say where the newest state is.
type metaPage struct {
	pageSize             int64
	root, freelist, high uint64 // high: the first page never used
	tx                   uint64
}

type pageWalk struct {
	file io.ReaderAt
	meta metaPage
	seen []byte // by page: what it is used for
}

// What a page is used for.
const (
	unused byte = iota
	inTree
	isFree
)

// checkPages returns Damaged when the pages do not hang together.
func checkPages(file io.ReaderAt, size int64) error {
	m, err := readMetas(file)
	if err != nil {
		return err
	}
	if int64(m.high) > size/m.pageSize {
		return Damaged{What: phrase.Of("store.pages.it-is-cut-short-it-has-bytes", size, int64(m.high)*m.pageSize)}
	}
	w := pageWalk{file: file, meta: m, seen: make([]byte, m.high)}
	if err := w.tree(m.root, nil, nil, 0, true); err != nil {
		return err
	}
	return w.freelist(m.freelist)
}

// readMetas reads both meta pages and returns the newer. A single good one would do for reading, but
// then the newest entry might be missing without a trace.
func readMetas(file io.ReaderAt) (metaPage, error) {
	first, err := readMeta(file, 0)
	if err != nil {
		return first, err
	}
	second, err := readMeta(file, first.pageSize)
	if err != nil {
		return second, err
	}
	if second.pageSize != first.pageSize {
		return first, Damaged{What: phrase.Of("store.pages.its-two-first-pages-contradict-each-other")}
	}
	if second.tx > first.tx {
		return second, nil
	}
	return first, nil
}

func readMeta(file io.ReaderAt, at int64) (metaPage, error) {
	b := make([]byte, pageHeader+metaSize)
	if n, err := file.ReadAt(b, at); n < len(b) {
		if err == io.EOF {
			return metaPage{}, Damaged{What: phrase.Of("store.pages.it-is-too-short-to-be-a")}
		}
		return metaPage{}, phrase.Error("store.pages.read-the-workshop-file", err)
	}
	b = b[pageHeader:]
	if order.Uint32(b) != boltMagic || order.Uint32(b[4:]) != boltVersion {
		return metaPage{}, Damaged{What: phrase.Of("store.pages.what-stands-at-byte-is-not-the", at)}
	}
	h := fnv.New64a()
	h.Write(b[:metaSum])
	if h.Sum64() != order.Uint64(b[metaSum:]) {
		return metaPage{}, Damaged{What: phrase.Of("store.pages.the-page-at-byte-does-not-have", at)}
	}
	m := metaPage{pageSize: int64(order.Uint32(b[8:])), root: order.Uint64(b[16:]), freelist: order.Uint64(b[32:]),
		high: order.Uint64(b[40:]), tx: order.Uint64(b[48:])}
	if m.pageSize < 512 || m.pageSize > 1<<16 || m.high > 1<<40 {
		return m, Damaged{What: phrase.Of("store.pages.the-page-at-byte-gives-impossible-sizes", at)}
	}
	return m, nil
}

func pageFault(id uint64, what string) error {
	return Damaged{What: phrase.Of("store.pages.page", id, what)}
}

// claim reads a page with what overflows from it, and marks it as used.
func (w *pageWalk) claim(id uint64) ([]byte, error) {
	if id < 2 || id >= w.meta.high {
		return nil, pageFault(id, phrase.Of("store.pages.is-named-but-does-not-exist"))
	}
	head := make([]byte, pageHeader)
	if _, err := w.file.ReadAt(head, int64(id)*w.meta.pageSize); err != nil {
		return nil, phrase.Error("store.pages.read-page-of-the-workshop-file", id, err)
	}
	more := uint64(order.Uint32(head[12:]))
	switch {
	case order.Uint64(head) != id:
		return nil, pageFault(id, phrase.Of("store.pages.says-that-it-is-page", order.Uint64(head)))
	case more >= w.meta.high-id:
		return nil, pageFault(id, phrase.Of("store.pages.reaches-beyond-the-end"))
	}
	for k := id; k <= id+more; k++ {
		if w.seen[k] != unused {
			return nil, pageFault(k, phrase.Of("store.pages.is-used-twice"))
		}
		w.seen[k] = inTree
	}
	p := make([]byte, int64(more+1)*w.meta.pageSize)
	if _, err := w.file.ReadAt(p, int64(id)*w.meta.pageSize); err != nil {
		return nil, phrase.Error("store.pages.read-page-of-the-workshop-file", id, err)
	}
	return p, nil
}

// tree walks a tree whose keys all lie from low to before high; nil is no bound. The leaves of the
// root tree hold buckets and nothing else, those of a bucket hold none.
func (w *pageWalk) tree(id uint64, low, high []byte, depth int, root bool) error {
	if depth > maxDepth {
		return pageFault(id, phrase.Of("store.pages.lies-too-deep"))
	}
	p, err := w.claim(id)
	if err != nil {
		return err
	}
	switch order.Uint16(p[8:]) {
	case flagLeaf:
		return w.leaf(id, p, low, high, root)
	case flagBranch:
		return w.branch(id, p, low, high, depth, root)
	}
	return pageFault(id, phrase.Of("store.pages.is-of-an-unknown-kind"))
}

// element returns where in the page the key of element i lies and how long it is; sizes lie at the
// places that leaves and branches have for them.
func element(p []byte, i, posAt, sizeAt int) (pos, size uint64) {
	at := pageHeader + i*elementSize
	return uint64(at) + uint64(order.Uint32(p[at+posAt:])), uint64(order.Uint32(p[at+sizeAt:]))
}

func between(key, low, high []byte) bool {
	return len(key) > 0 && bytes.Compare(key, low) >= 0 && (high == nil || bytes.Compare(key, high) < 0)
}

func (w *pageWalk) branch(id uint64, p []byte, low, high []byte, depth int, root bool) error {
	n := int(order.Uint16(p[10:]))
	next := uint64(pageHeader + n*elementSize)
	if n == 0 || next > uint64(len(p)) {
		return pageFault(id, phrase.Of("store.pages.has-an-impossible-number-of-entries"))
	}
	keys, children := make([][]byte, n), make([]uint64, n)
	for i := range n {
		pos, size := element(p, i, 0, 4)
		if pos != next || size > uint64(len(p))-pos {
			return pageFault(id, phrase.Of("store.pages.has-entries-that-do-not-follow-each"))
		}
		keys[i], next = p[pos:pos+size], pos+size
		children[i] = order.Uint64(p[pageHeader+i*elementSize+8:])
		if !between(keys[i], low, high) || (i > 0 && bytes.Compare(keys[i-1], keys[i]) >= 0) {
			return pageFault(id, phrase.Of("store.pages.has-its-entries-out-of-order"))
		}
	}
	for i, child := range children {
		end := high
		if i+1 < n {
			end = keys[i+1]
		}
		if err := w.tree(child, keys[i], end, depth+1, root); err != nil {
			return err
		}
	}
	return nil
}

func (w *pageWalk) leaf(id uint64, p []byte, low, high []byte, root bool) error {
	n := int(order.Uint16(p[10:]))
	next := uint64(pageHeader + n*elementSize)
	if next > uint64(len(p)) {
		return pageFault(id, phrase.Of("store.pages.has-an-impossible-number-of-entries"))
	}
	var last []byte
	for i := range n {
		pos, size := element(p, i, 4, 8)
		length := uint64(order.Uint32(p[pageHeader+i*elementSize+12:]))
		if pos != next || size+length > uint64(len(p))-pos {
			return pageFault(id, phrase.Of("store.pages.has-entries-that-do-not-follow-each"))
		}
		key, value := p[pos:pos+size], p[pos+size:pos+size+length]
		next = pos + size + length
		if !between(key, low, high) || (last != nil && bytes.Compare(last, key) >= 0) {
			return pageFault(id, phrase.Of("store.pages.has-its-entries-out-of-order"))
		}
		last = key
		if kind := order.Uint32(p[pageHeader+i*elementSize:]); kind > 1 || (kind == 1) != root {
			return pageFault(id, phrase.Of("store.pages.has-an-entry-of-an-unknown-kind"))
		}
		if root {
			if err := w.bucket(id, value); err != nil {
				return err
			}
		}
	}
	return nil
}

// bucket walks a bucket: a tree of its own, or a single small leaf inside the value.
func (w *pageWalk) bucket(id uint64, value []byte) error {
	if len(value) < bucketHeader {
		return pageFault(id, phrase.Of("store.pages.has-a-part-without-a-beginning"))
	}
	if root := order.Uint64(value); root != 0 {
		return w.tree(root, nil, nil, 0, false)
	}
	inline := value[bucketHeader:]
	if len(inline) < pageHeader || order.Uint16(inline[8:]) != flagLeaf {
		return pageFault(id, phrase.Of("store.pages.has-a-small-part-of-an-unknown"))
	}
	return w.leaf(id, inline, nil, nil, false)
}

// freelist holds the list of free pages against those in use: a page that is both would be written
// over.
func (w *pageWalk) freelist(id uint64) error {
	if id == noFreelist {
		return nil
	}
	p, err := w.claim(id)
	if err != nil {
		return err
	}
	if order.Uint16(p[8:]) != flagFreelist {
		return pageFault(id, phrase.Of("store.pages.is-not-the-list-of-free-pages"))
	}
	ids := p[pageHeader:]
	n := uint64(order.Uint16(p[10:]))
	if n == 0xFFFF { // then the first number is how many follow
		n, ids = order.Uint64(ids), ids[8:]
	}
	if n > uint64(len(ids))/8 {
		return pageFault(id, phrase.Of("store.pages.lists-more-free-pages-than-it-holds"))
	}
	for i := range n {
		free := order.Uint64(ids[8*i:])
		if free < 2 || free >= w.meta.high || w.seen[free] != unused {
			return pageFault(free, phrase.Of("store.pages.is-listed-as-free-and-is-not"))
		}
		w.seen[free] = isFree
	}
	return nil
}
