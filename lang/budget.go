package lang

import (
	"fmt"
	"hash/maphash"
	"io"
	"io/fs"
	"strconv"
	"strings"
	"sync"
)

// Limits on one text. They are far above any honest file and keep hostile ones from costing
// time, memory or stack: blocks and expressions are read by recursion, and a Go stack overflow
// cannot be recovered from. So no budget raises them.
const (
	// maxLineBytes bounds one line; a line is one fact, and a terminal shows 80 cells.
	maxLineBytes = 16 << 10
	// maxNesting bounds open blocks. The deepest of the language is 2.
	maxNesting = 32
	// MaxExpressionBytes bounds the text of one expression.
	MaxExpressionBytes = 4 << 10
	// MaxExpressionNesting bounds brackets and prefix operators inside one expression.
	MaxExpressionNesting = 50
	// MaxReported bounds the diagnostics that are printed; the rest are counted.
	MaxReported = 20
	// MaxRecorded bounds the diagnostics kept while reading one source, so that a file
	// that is wrong on every line costs no more than one that is wrong on some.
	MaxRecorded = 1000
)

// Budgets in bytes: the one that holds unless another is given, and the least and the most that
// can be given. A catalogue of 100,000 lenses takes 25 MB.
const (
	DefaultBudget = 64_000_000
	leastBudget   = 1_000_000
	mostBudget    = 2_000_000_000
)

// A Budget bounds what one run reads, all texts together: the files of the command line, what they
// and the settings name, and lists of equipment. It is given in bytes, and each other limit is a share
// of them. A file that is read again costs nothing more. Several goroutines may share a budget; nil is
// one of the usual size that nobody shares.
type Budget struct {
	mu    sync.Mutex
	most  int
	seed  maphash.Seed
	seen  map[uint64]bool // by the hash of name and text
	bytes int             // spent so far, as all below
	lines int
	cells int
	over  Diagnostics // why no more is read, once that is so
}

// NewBudget gives a budget of so many bytes.
func NewBudget(bytes int) *Budget {
	return &Budget{most: bytes, seed: maphash.MakeSeed(), seen: map[uint64]bool{}}
}

// Raise gives a budget another size. What is spent stays spent.
func (b *Budget) Raise(bytes int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.most, b.over = bytes, nil
}

// A Portion is the most of a budget that one text may take: one of so many parts.
type Portion int

// The portions of texts. What people choose how to work fits into a page.
const (
	OfFile     Portion = 4
	OfListing  Portion = 16 // a Framing Decision List: one of a hundred cameras takes 1 MB
	OfRules    Portion = 32 // the standard ones take 50 kB
	OfSettings Portion = 1000
)

// Bytes of a budget for each thing that all texts may have together, or one script or file.
const (
	bytesPerLine  = 32
	bytesPerFile  = 6400
	bytesPerCell  = 64 // of lists of equipment and shots
	bytesPerScene = 6400
	bytesPerPiece = 80 // statements and values of one file, whose syntax is held at once
)

// Or gives the budget itself, and one of the usual size for nil.
func (b *Budget) Or() *Budget {
	if b == nil {
		return NewBudget(DefaultBudget)
	}
	return b
}

// Read reads a text, and no more of it than one byte past what one file may hold: enough for
// [Budget.Source] to see that there is too much.
func (b *Budget) Read(r io.Reader) (string, error) {
	b.mu.Lock()
	most := b.most/int(OfFile) + 1
	if b.over != nil {
		most = 0
	}
	b.mu.Unlock()
	var text strings.Builder
	portion := 32 << 10
	if file, ok := r.(fs.File); ok {
		if info, err := file.Stat(); err == nil && info.Size() > 0 {
			size := int(min(info.Size(), int64(most)))
			text.Grow(size)
			portion = min(portion, size+1) // a small file is read at once, and then found to end
		}
	}
	_, err := io.CopyBuffer(&text, io.LimitReader(r, int64(most)), make([]byte, portion))
	return text.String(), err
}

// Take spends what a text costs; name is that of its file.
func (b *Budget) Take(name, text string, of Portion) Diagnostics {
	lines := strings.Count(text, "\n") + 1
	b.mu.Lock()
	defer b.mu.Unlock()
	key := maphash.Comparable(b.seed, [2]string{name, text})
	switch most := b.most / int(of); {
	case b.over != nil:
		return b.over
	case b.seen[key]:
		return nil
	case len(text) > most:
		b.bytes += len(text) // which was read all the same
		return Diagnostics{b.exceeded(name, "the file holds more than "+SizeText(most), int(of)*len(text))}
	case b.bytes+len(text) > b.most:
		return b.spent(name, "more than "+SizeText(b.most), b.bytes+len(text))
	case b.lines+lines > b.most/bytesPerLine:
		return b.spent(name, fmt.Sprintf("more than %d lines", b.most/bytesPerLine), bytesPerLine*(b.lines+lines))
	case len(b.seen) == b.most/bytesPerFile:
		return b.spent(name, fmt.Sprintf("more than %d files", b.most/bytesPerFile), b.most+1)
	}
	b.seen[key] = true
	b.bytes += len(text)
	b.lines += lines
	return nil
}

// TakeCells spends cells of a list, which may have been packed, and the bytes that they unpack to.
func (b *Budget) TakeCells(name string, cells, bytes int) Diagnostics {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch {
	case b.over != nil:
		return b.over
	case b.bytes+bytes > b.most:
		return b.spent(name, "more than "+SizeText(b.most)+" once a workbook is unpacked", b.bytes+bytes)
	case b.cells+cells > b.most/bytesPerCell:
		return b.spent(name, fmt.Sprintf("more than %d cells", b.most/bytesPerCell), bytesPerCell*(b.cells+cells))
	}
	b.bytes += bytes
	b.cells += cells
	return nil
}

// spent says that with a file the run reads too much, now and to whoever asks for more.
func (b *Budget) spent(name, what string, wanted int) Diagnostics {
	b.over = Diagnostics{b.exceeded(name, "with this file, the run reads "+what, wanted)}
	return b.over
}

// exceeded is the diagnostic of a limit, which a file passes; wanted is the budget that would do for
// what was seen.
func (b *Budget) exceeded(name, summary string, wanted int) Diagnostic {
	d := Diagnostic{
		Severity: Error, Code: TooLarge, Span: Span{Source: &Source{Name: name, lines: []int{0}}}, Summary: summary,
		Detail: fmt.Sprintf("Leave out what this run does not need. Its budget is %s, and %s is the most.", SizeText(b.most), SizeText(mostBudget)),
	}
	larger := b.most
	for larger < wanted {
		larger *= 2
	}
	if larger <= mostBudget {
		size := SizeText(larger)
		d.Detail = fmt.Sprintf("Leave out what this run does not need, or raise its budget, which is %s: --budget %s, or \"budget: %s\" in the settings.", SizeText(b.most), size, size)
	}
	return d
}

// Scenes reads the headings of a script as [Scenes] does, unless there are more than nobody shoots.
func (b *Budget) Scenes(src *Source) ([]Scene, Diagnostics) {
	most := b.most / bytesPerScene
	scenes := scenes(src, most+1)
	if len(scenes) > most {
		return nil, Diagnostics{b.exceeded(src.Name, fmt.Sprintf("the script has more than %d scenes", most), 2*b.most)}
	}
	return scenes, nil
}

// checkPieces refuses a file of too many statements and values.
func (b *Budget) checkPieces(name string, pieces int) Diagnostics {
	most := b.most / bytesPerPiece
	if pieces <= most {
		return nil
	}
	return Diagnostics{b.exceeded(name, fmt.Sprintf("the file holds more than %d statements and values", most), bytesPerPiece*pieces)}
}

// Source makes a source of a text that people write, as [NewSource], and spends what it costs.
func (b *Budget) Source(name, text string, of Portion) (*Source, Diagnostics) {
	return b.source(name, text, of, newSource)
}

// Data makes a source of a text that programs write, whose lines may be of any length and may hold what
// [NewSource] refuses, and spends what it costs.
func (b *Budget) Data(name, text string, of Portion) (*Source, Diagnostics) {
	return b.source(name, text, of, newData)
}

func (b *Budget) source(name, text string, of Portion, make func(name, text string) (*Source, Diagnostics)) (*Source, Diagnostics) {
	if ds := b.Take(name, text, of); ds != nil {
		return ds[0].Span.Source, ds
	}
	src, ds := make(name, text)
	src.budget = b
	return src, ds
}

// byteUnits are the units of a budget.
var byteUnits = []struct {
	name  string
	bytes int
}{{"GB", 1_000_000_000}, {"MB", 1_000_000}, {"kB", 1000}}

// SizeText writes a number of bytes in the largest unit of which it is a whole number, as "64MB".
func SizeText(bytes int) string {
	for _, unit := range byteUnits {
		if bytes%unit.bytes == 0 {
			return fmt.Sprintf("%d%s", bytes/unit.bytes, unit.name)
		}
	}
	return fmt.Sprintf("%dB", bytes)
}

// BudgetRange says between which sizes a budget may be, as "1MB to 2GB".
func BudgetRange() string { return SizeText(leastBudget) + " to " + SizeText(mostBudget) }

// ParseBudget reads a budget from a text, as "256MB". It is false for any other text, and for a size
// outside of [BudgetRange].
func ParseBudget(text string) (bytes int, ok bool) {
	for _, unit := range byteUnits {
		number, of := strings.CutSuffix(text, unit.name)
		if !of {
			continue
		}
		n, err := strconv.Atoi(strings.TrimSpace(number))
		return n * unit.bytes, err == nil && n > 0 && n <= mostBudget/unit.bytes && n*unit.bytes >= leastBudget
	}
	return 0, false
}
