package program

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"math"
	"math/bits"
)

// packing names the way in which a program is packed, which unpack.js reads.
const packing = "repeats in gzip, 1"

// pack packs a program for a page. Gzip finds what repeats within 32 kB only, and a program repeats
// itself all over its millions of bytes: so each piece that stood anywhere before is written as where, and what that
// leaves goes through gzip, kind by kind. That is a quarter smaller than gzip alone.
//
// A step is so many bytes as they are, then a repeat. The kinds stand one after another, each as long
// as the head says:
//
//	token  a byte for each step: 2 bits say which of the last three distances it repeats from, or 3 a
//	       new one; 2 bits how many bytes as they are come before, or 3 that a count has more; 4 bits
//	       how long it is, less 3, or 15 that a length has more
//	plain  the bytes as they are
//	count  what is more than 3 bytes, in bytes of 255 and a last one that is less
//	length what is more than 18, likewise
//	low, middle, high  the three bytes of each new distance
//
// What is behind the last step is plain.
func pack(program []byte) []byte {
	var token, plain, count, length, low, middle, high []byte
	at := 0
	for _, s := range stepsOf(program) {
		plain = append(plain, program[at:at+s.plain]...)
		at += s.plain + s.length
		token = append(token, byte(s.from)<<6|byte(min(s.plain, morePlain))<<4|byte(min(s.length-leastRepeat, moreLength)))
		if s.plain >= morePlain {
			count = appendCount(count, s.plain-morePlain)
		}
		if s.length-leastRepeat >= moreLength {
			length = appendCount(length, s.length-leastRepeat-moreLength)
		}
		if s.from == newDistance {
			low, middle, high = append(low, byte(s.distance)), append(middle, byte(s.distance>>8)), append(high, byte(s.distance>>16))
		}
	}
	plain = append(plain, program[at:]...)
	kinds := [][]byte{token, plain, count, length, low, middle, high}
	head := binary.LittleEndian.AppendUint32(nil, uint32(len(program)))
	for _, kind := range kinds {
		head = binary.LittleEndian.AppendUint32(head, uint32(len(kind)))
	}
	var packed bytes.Buffer
	w, _ := gzip.NewWriterLevel(&packed, gzip.BestCompression) // the level exists
	_, _ = w.Write(bytes.Join(append([][]byte{head}, kinds...), nil))
	_ = w.Close() // like the write before, it cannot fail into a buffer
	return packed.Bytes()
}

func appendCount(to []byte, n int) []byte {
	for ; n >= 255; n -= 255 {
		to = append(to, 255)
	}
	return append(to, byte(n))
}

const (
	leastRepeat = 3 // bytes of a repeat from a last distance
	leastNew    = 4 // bytes of one from a new distance
	newDistance = 3
	morePlain   = 3
	moreLength  = 15
	farthest    = 1<<24 - 1 // distance that is written
)

// A step is plain bytes and then a repeat.
type step struct {
	plain, length, distance int
	from                    int // place of the distance among the last ones, or newDistance
}

// The bits that parts of a step take in the end, about: they decide which repeats are worth it.
const plainBits = 6

var fromBits = [3]float32{2, 3, 4}

func lengthBits(length int) float32 {
	return 3 + 0.6*float32(math.Log2(float64(length+2)))
}

func distanceBits(distance int) float32 { return 3 + 0.85*float32(bits.Len(uint(distance))) }

// A node is the cheapest way that is known to a place in a window.
type node struct {
	cost   float32
	length int32    // of the repeat that ends here, or 0 for a plain byte
	last   [3]int32 // distances, the newest first
	from   int8
}

const (
	window    = 1 << 16 // bytes over which ways are compared
	longest   = 256     // a longer repeat is tried in its full length only
	longSkip  = 300     // behind the start of such a repeat no others are looked for
	tableBits = 18
)

// A table finds where the same bytes stood before.
type table struct {
	bytes, tries int
	head, before []int32 // the newest place of a hash, and the place of the same hash before each
}

func newTable(bytes, tries, size int) *table {
	t := &table{bytes, tries, make([]int32, 1<<tableBits), make([]int32, size)}
	for i := range t.head {
		t.head[i] = -1
	}
	return t
}

func (t *table) hash(of []byte) uint64 {
	word := binary.LittleEndian.Uint64(of)
	return word << (64 - 8*t.bytes) * 0x9e3779b97f4a7c15 >> (64 - tableBits)
}

func (t *table) add(program []byte, at int) {
	h := t.hash(program[at:])
	t.before[at], t.head[h] = t.head[h], int32(at)
}

// alike counts the bytes that are the same from two places on, up to a limit.
func alike(of []byte, a, b, limit int) int {
	n := 0
	for ; n+8 <= limit; n += 8 {
		if differ := binary.LittleEndian.Uint64(of[a+n:]) ^ binary.LittleEndian.Uint64(of[b+n:]); differ != 0 {
			return n + bits.TrailingZeros64(differ)/8
		}
	}
	for n < limit && of[a+n] == of[b+n] {
		n++
	}
	return n
}

// stepsOf writes a program as steps: window by window those that cost least, of the repeats that the
// tables find.
func stepsOf(program []byte) []step {
	tables := []*table{newTable(4, 6, len(program)), newTable(8, 12, len(program))}
	var lengths [longest + 1]float32
	for i := range lengths {
		lengths[i] = lengthBits(i)
	}
	nodes := make([]node, window+1)
	var steps []step
	plain := 0
	last := [3]int32{1, 2, 3}
	for base := 0; base < len(program); {
		size := min(window, len(program)-base)
		for i := range nodes[:size+1] {
			nodes[i].cost = math.MaxFloat32
		}
		nodes[0] = node{last: last}
		skip := 0
		for i := range size {
			at, here := base+i, nodes[i]
			if cost := here.cost + plainBits; cost < nodes[i+1].cost {
				nodes[i+1] = node{cost: cost, last: here.last}
			}
			limit := size - i
			if len(program)-at < 8 || limit < leastNew {
				continue
			}
			offer := func(least, most int, cost float32, last [3]int32, from int) {
				if most > longest {
					least = most
				}
				for n := least; n <= most; n++ {
					if cost := here.cost + cost + lengths[min(n, longest)]; cost < nodes[i+n].cost {
						nodes[i+n] = node{cost, int32(n), last, int8(from)}
					}
				}
			}
			if skip--; skip < 0 {
				for from, distance := range here.last {
					if at < int(distance) {
						continue
					}
					last := here.last
					copy(last[1:], here.last[:from])
					last[0] = distance
					offer(leastRepeat, alike(program, at-int(distance), at, limit), fromBits[from], last, from)
				}
				best := leastNew - 1
				for _, t := range tables {
					other := t.head[t.hash(program[at:])]
					for tries := t.tries; tries > 0 && other >= 0 && best < limit && at-int(other) <= farthest; tries-- {
						if program[int(other)+best] == program[at+best] {
							if n := alike(program, int(other), at, limit); n > best {
								best = n
								offer(leastNew, n, distanceBits(at-int(other)), [3]int32{int32(at) - other, here.last[0], here.last[1]}, newDistance)
							}
						}
						other = t.before[other]
					}
				}
				if best > longSkip {
					skip = best - longSkip/2
				}
			}
			for _, t := range tables {
				t.add(program, at)
			}
		}
		var ends []int
		for i := size; i > 0; i -= max(1, int(nodes[i].length)) {
			ends = append(ends, i)
		}
		for k := len(ends) - 1; k >= 0; k-- {
			if n := &nodes[ends[k]]; n.length == 0 {
				plain++
			} else {
				steps = append(steps, step{plain, int(n.length), int(n.last[0]), int(n.from)})
				plain = 0
			}
		}
		last = nodes[size].last
		base += size
	}
	return steps
}
