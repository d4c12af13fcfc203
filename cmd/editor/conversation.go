package editor

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"sync"
)

// A conversation takes what the client says. Each document has its own line of questions, and its findings
// are worked out beside that, so that no document waits for another.
type conversation struct {
	wire
	now    server
	lanes  map[string]*lane
	checks map[string]*check
	failed chan error // the first failure of writing
	work   sync.WaitGroup
	ready  bool // initialized
	ending bool // shut down

	mu    sync.Mutex
	asked map[string]context.CancelFunc // the questions that are not answered, by their id
}

// A check works out what one document has to show when it changes. The newest state wins: what is under way for an
// older one is given up.
type check struct {
	lane
	cancel context.CancelFunc // of the newest
}

// received is what reading a message gave.
type received struct {
	message *message
	err     error
}

// receive reads messages ahead.
func (c *conversation) receive(ctx context.Context, incoming chan<- received) {
	for {
		m, err := c.wire.read()
		select {
		case incoming <- received{m, err}:
		case <-ctx.Done():
			return
		}
		var wire *wireError
		if err != nil && !errors.As(err, &wire) {
			return
		}
	}
}

// fail ends the session, since nothing can be written any more.
func (c *conversation) fail(err error) {
	select {
	case c.failed <- err:
	default: // it has failed already
	}
}

// handle takes one message and reports whether the session is over. Whatever changes documents is done at
// once; an answer that takes work is left to the line of its document.
func (c *conversation) handle(next received) (done bool, err error) {
	var fault *wireError
	switch {
	case errors.As(next.err, &fault):
		return false, c.write(message{ID: json.RawMessage("null"), Error: fault})
	case errors.Is(next.err, io.EOF):
		return true, c.end()
	case next.err != nil:
		return true, next.err
	}
	m := next.message
	switch {
	case m.Method == "" && string(m.ID) == refreshed:
		return false, nil
	case m.Method == "exit":
		return true, c.end()
	case m.Method == "shutdown":
		c.finish()
	}
	method := methods()[m.Method]
	p, fault := c.params(m, method != nil)
	if fault != nil {
		return false, c.answer(m, nil, fault)
	}
	if method != nil {
		c.ask(m, p, method)
		return false, nil
	}
	result, err := c.do(m.Method, p)
	if err != nil {
		fault = &wireError{codeInvalidParams, err.Error()}
	}
	return false, c.answer(m, result, fault)
}

// params reads what a message asks with, or says why it cannot be taken now; question says that its method
// is one of [methods].
func (c *conversation) params(m *message, question bool) (*params, *wireError) {
	_, order := orders[m.Method]
	switch {
	case m.Method == "":
		return nil, &wireError{codeInvalidRequest, "the message names no method"}
	case !c.ready && m.Method != "initialize":
		return nil, &wireError{codeNotInitialized, "the session is not initialized"}
	case c.ending:
		return nil, &wireError{codeInvalidRequest, "the session is shut down"}
	case !question && !order:
		return nil, &wireError{codeUnknownMethod, fmt.Sprintf("the method %q is not known", m.Method)}
	}
	p := &params{}
	if m.Params != nil && string(m.Params) != "null" {
		if err := json.Unmarshal(m.Params, p); err != nil && m.Method != "initialize" { // of which no more than the folder is taken
			return nil, &wireError{codeInvalidParams, err.Error()}
		}
	}
	return p, nil
}

// answer sends the answer to a request; of a notification only a fault is of interest, to the log.
func (c *conversation) answer(m *message, result any, fault *wireError) (err error) {
	if m.ID == nil {
		if fault != nil && fault.Code != codeUnknownMethod {
			fmt.Fprintf(c.now.Log, "%s: %s\n", m.Method, fault.Message)
		}
		return nil // nobody waits for it
	}
	sent := message{ID: m.ID, Error: fault}
	if fault == nil {
		if sent.Result, err = json.Marshal(result); err != nil {
			return err
		}
	}
	return c.write(sent)
}

// ask puts a question into the line of its document, to be answered from what is known now.
func (c *conversation) ask(m *message, p *params, method method) {
	s := c.now
	ctx, cancel := context.WithCancel(s.ctx)
	s.ctx = ctx
	id := string(m.ID)
	c.mu.Lock()
	c.asked[id] = cancel
	c.mu.Unlock()
	uri := p.TextDocument.URI
	if s.documents[uri] == nil {
		uri = "" // all that are of no document share one
	}
	if c.lanes[uri] == nil {
		c.lanes[uri] = &lane{}
	}
	c.lanes[uri].do(&c.work, func() {
		defer cancel()
		var result any
		fault := &wireError{codeCancelled, "the question was taken back"}
		if ctx.Err() == nil {
			if result, fault = s.answer(m.Method, p, method); ctx.Err() != nil {
				fault = &wireError{codeCancelled, "the question was taken back"}
			}
		}
		c.mu.Lock()
		delete(c.asked, id)
		c.mu.Unlock()
		if err := c.answer(m, result, fault); err != nil {
			c.fail(err)
		}
	})
}

// touch has the findings worked out anew of the open documents that a change of one bears on: itself, and
// those that may read it; of all for nil.
func (c *conversation) touch(changed *document) {
	for uri, d := range c.now.documents {
		if changed != nil && uri == changed.uri {
			c.check(uri)
		} else if changed == nil || reads(d.kind, changed.kind) {
			c.put(d.again())
			c.check(uri)
		}
	}
}

// reads reports whether a text of one kind may read one of another.
func reads(kind, other string) bool {
	switch other {
	case "scenario":
		return kind == "choices"
	case "choices":
		return false
	}
	return kind == "scenario" || kind == "choices"
}

// put makes a document one of those that are open, in the place of that before it.
func (c *conversation) put(d *document) {
	c.now.documents = maps.Clone(c.now.documents)
	c.now.documents[d.uri] = d
}

// check has the findings of a document worked out from what is known now.
func (c *conversation) check(uri string) {
	of := c.checks[uri]
	if of == nil {
		of = &check{}
		c.checks[uri] = of
	}
	if of.cancel != nil {
		of.cancel()
	}
	s := c.now
	s.ctx, of.cancel = context.WithCancel(s.ctx)
	of.do(&c.work, func() {
		if s.ctx.Err() != nil {
			return
		}
		if err := s.publish(uri, c.write, c.refresh); err != nil {
			c.fail(err)
		}
	})
}

// refreshed is the id of what the client is asked, whose answer tells nothing.
const refreshed = `"refresh"`

// refresh asks the client, if it can be, to ask anew for what stands in the margin.
func (c *conversation) refresh() error {
	for _, method := range c.now.refreshes {
		if err := c.write(message{ID: json.RawMessage(refreshed), Method: method}); err != nil {
			return err
		}
	}
	return nil
}

// finish waits for what is asked, so that the client gets it before it leaves.
func (c *conversation) finish() {
	for _, of := range c.checks {
		if of.cancel != nil {
			of.cancel()
		}
	}
	c.work.Wait()
}

func (c *conversation) end() error {
	c.finish()
	if c.ready && !c.ending {
		return ErrNotShutDown
	}
	select {
	case err := <-c.failed:
		return err
	default:
		return nil
	}
}

// orders are the methods that change what is known, each done before the next message is read.
var orders = map[string]bool{
	"initialize": true, "initialized": true, "shutdown": true, "$/cancelRequest": true, "$/setTrace": true,
	"textDocument/didOpen": true, "textDocument/didChange": true, "textDocument/didSave": true, "textDocument/didClose": true,
}

// do carries out an order.
func (c *conversation) do(method string, p *params) (any, error) {
	switch method {
	case "initialize":
		c.ready, c.now.root = true, pathOf(p.RootURI)
		if p.Capabilities.Workspace.CodeLens.RefreshSupport {
			c.now.refreshes = append(c.now.refreshes, "workspace/codeLens/refresh")
		}
		if p.Capabilities.Workspace.InlayHint.RefreshSupport {
			c.now.refreshes = append(c.now.refreshes, "workspace/inlayHint/refresh")
		}
		return c.now.capabilities(), nil
	case "shutdown":
		c.ending = true
	case "$/cancelRequest":
		c.mu.Lock()
		defer c.mu.Unlock()
		if cancel := c.asked[string(p.ID)]; cancel != nil {
			cancel()
		}
	case "textDocument/didOpen":
		return nil, c.open(p)
	case "textDocument/didChange":
		return nil, c.change(p)
	case "textDocument/didSave":
		c.touch(nil)
	case "textDocument/didClose":
		return nil, c.close(p)
	}
	return nil, nil
}
