package parquet

import (
	"encoding/binary"
	"fmt"
)

// maxDepth is how deep structures and lists of a footer may stand in one another; ours reach 7.
const maxDepth = 16

// What the items of lists may take once they are decoded, in bytes. The largest structure, a column chunk, takes half of
// itemBytes; a text in a list takes 16 bytes. So a footer may describe some 40,000 columns, of each its element of the
// schema, its chunk and its order.
const (
	listBudget  = 128 << 20
	itemBytes   = 1 << 10
	scalarBytes = 16
)

// structureSize walks over a structure in Thrift's compact protocol, at the beginning of b, before the library decodes it,
// because the library trusts what it reads: a list is made as long as it claims to be, and nesting goes on until the stack ends.
// It returns the structure's length. Source of the encoding: Apache Thrift, thrift-compact-protocol.md.
func structureSize(b []byte) (int, error) {
	w := thriftWalker{left: b, budget: listBudget}
	if w.structure(0); w.bad != "" {
		return 0, damaged("header or footer: %s", w.bad)
	}
	return len(b) - len(w.left), nil
}

type thriftWalker struct {
	left   []byte
	budget int
	bad    string // what is wrong, once something is; then nothing is left
}

// Types of the compact protocol. A footer has no maps, sets or UUIDs.
const (
	thriftTrue   = 1
	thriftFalse  = 2
	thriftByte   = 3
	thriftInt16  = 4
	thriftInt64  = 6
	thriftDouble = 7
	thriftBinary = 8
	thriftList   = 9
	thriftStruct = 12
)

func (w *thriftWalker) fail(what string, args ...any) {
	if w.bad == "" {
		w.bad, w.left = fmt.Sprintf(what, args...), nil
	}
}

func (w *thriftWalker) skip(n uint64) {
	if n > uint64(len(w.left)) {
		w.fail("it ends too early")
		return
	}
	w.left = w.left[n:]
}

func (w *thriftWalker) byte() byte {
	if len(w.left) == 0 {
		w.fail("it ends too early")
		return 0
	}
	b := w.left[0]
	w.left = w.left[1:]
	return b
}

func (w *thriftWalker) varint() uint64 {
	v, n := binary.Uvarint(w.left)
	if n <= 0 {
		w.fail("a number does not end")
		return 0
	}
	w.left = w.left[n:]
	return v
}

func (w *thriftWalker) structure(depth int) {
	for w.bad == "" {
		head := w.byte()
		if head == 0 {
			return
		}
		if head>>4 == 0 {
			w.varint() // a field number instead of a step
		}
		if t := head & 15; t != thriftTrue && t != thriftFalse { // a field's boolean is its type
			w.value(t, depth+1)
		}
	}
}

func (w *thriftWalker) value(t byte, depth int) {
	switch {
	case depth > maxDepth:
		w.fail("it is nested deeper than %d", maxDepth)
	case t <= thriftByte: // in a list a boolean is a byte
		w.byte()
	case t >= thriftInt16 && t <= thriftInt64:
		w.varint()
	case t == thriftDouble:
		w.skip(8)
	case t == thriftBinary:
		w.skip(w.varint())
	case t == thriftList:
		w.list(depth)
	case t == thriftStruct:
		w.structure(depth)
	default:
		w.fail("a value of type %d", t)
	}
}

func (w *thriftWalker) list(depth int) {
	head := w.byte()
	size := uint64(head >> 4)
	if size == 15 {
		size = w.varint()
	}
	if size > uint64(len(w.left)) {
		w.fail("a list of %d items in %d bytes", size, len(w.left))
		return
	}
	each := scalarBytes
	if t := head & 15; t == thriftStruct || t == thriftList {
		each = itemBytes
	}
	if w.budget -= int(size) * each; w.budget < 0 {
		w.fail("its lists are longer than this program reads")
		return
	}
	for range size {
		if w.bad != "" {
			return
		}
		w.value(head&15, depth+1)
	}
}
