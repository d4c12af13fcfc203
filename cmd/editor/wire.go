package editor

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"

	"glassbrief/lang"
)

// maxMessage bounds one message: a text of the largest size whose characters all need
// escapes, and some room.
const maxMessage = 2*lang.DefaultBudget/int(lang.OfFile) + 1<<16

// maxHeaderLines bounds the header of a message, which has one line or two.
const maxHeaderLines = 16

// A message is a request, a notification (without id) or, when sent, a response, as
// JSON-RPC 2.0 has them.
type message struct {
	Version string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id,omitempty"`
	Method  string          `json:"method,omitempty"`
	Params  json.RawMessage `json:"params,omitempty"`
	Result  json.RawMessage `json:"result,omitempty"`
	Error   *wireError      `json:"error,omitempty"`
}

// A wireError is an error as the protocol has it.
type wireError struct {
	Code    int    `json:"code"`
	Message string `json:"message"`
}

func (e *wireError) Error() string { return e.Message }

// The codes of JSON-RPC and of the protocol.
const (
	codeParse          = -32700
	codeInvalidRequest = -32600
	codeUnknownMethod  = -32601
	codeInvalidParams  = -32602
	codeInternal       = -32603
	codeNotInitialized = -32002
	codeCancelled      = -32800
)

// A wire carries messages over a pair of streams.
type wire struct {
	in  *bufio.Reader
	out io.Writer
}

// read takes the next message. A body that is no message is a [wireError], after which
// reading can go on; any other error ends the session, io.EOF between two messages.
func (w *wire) read() (*message, error) {
	length, err := w.header()
	if err != nil {
		return nil, err
	}
	body := make([]byte, length)
	if _, err := io.ReadFull(w.in, body); err != nil {
		return nil, fmt.Errorf("a message ends before its length: %w", err)
	}
	m := &message{}
	if err := json.Unmarshal(body, m); err != nil {
		return nil, &wireError{codeParse, "the body of the message is not JSON of a message"}
	}
	if m.Version != "2.0" || m.Method == "" && m.ID == nil {
		return nil, &wireError{codeInvalidRequest, "the message is no request of JSON-RPC 2.0"}
	}
	return m, nil
}

// header reads up to the body and gives its length. A line is no longer than the buffer
// of the reader.
func (w *wire) header() (length int, err error) {
	length = -1
	for lines := 0; ; lines++ {
		line, err := w.in.ReadSlice('\n')
		if err == io.EOF && length < 0 && len(line) == 0 {
			return 0, io.EOF
		}
		if err != nil {
			return 0, fmt.Errorf("the header of a message cannot be read: %w", err)
		}
		text := strings.TrimRight(string(line), "\r\n")
		if text == "" && lines > 0 {
			break
		}
		name, value, _ := strings.Cut(text, ":")
		if strings.EqualFold(strings.TrimSpace(name), "Content-Length") {
			if length, err = strconv.Atoi(strings.TrimSpace(value)); err != nil {
				return 0, fmt.Errorf("the length of a message is no number: %q", text)
			}
		}
		if lines > maxHeaderLines {
			return 0, errors.New("the header of a message has no end")
		}
	}
	if length < 0 || length > maxMessage {
		return 0, fmt.Errorf("the length of a message is not between 0 and %d bytes", maxMessage)
	}
	return length, nil
}

// write sends a message.
func (w *wire) write(m message) error {
	m.Version = "2.0"
	body, err := json.Marshal(m)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(w.out, "Content-Length: %d\r\n\r\n%s", len(body), body)
	return err
}

// shared is a stream that several goroutines write to, a whole piece at a time.
type shared struct {
	mu sync.Mutex
	to io.Writer
}

func (s *shared) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.to.Write(p)
}
