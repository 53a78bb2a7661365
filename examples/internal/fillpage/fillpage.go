// Package fillpage fills a page of HTML that is written in the language of html/template, of which it knows what our
// pages use: fields, an index, if, else, range and its variables. It gives the bytes that html/template gives.
//
// It exists for the program that is sent to a phone: html/template calls methods by name, so that the Go linker must
// keep every method of every type, which more than doubles a WebAssembly module.
package fillpage

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// HTML is markup of our own that is passed on as it is. Every other text is escaped, for the inside of an element or of
// an attribute in double quotes; a page must not put a value anywhere else (a style, a script, an address).
type HTML string

// Page is a page to be filled.
type Page struct{ body []node }

// node is a text, or an action with what it encloses.
type node struct {
	text        string
	do          string // "", show, if, range
	arg         []string
	vars        [2]string // of a range: index and element
	then, else_ []node
}

// Parse reads a page. An action that it does not know is an error.
func Parse(text string) (*Page, error) {
	p := parser{rest: text}
	body, end, err := p.list()
	if err == nil && end != "" {
		err = fmt.Errorf("{{%s}} without a beginning", end)
	}
	if err != nil {
		return nil, fmt.Errorf("page, before %.40q: %w", p.rest, err)
	}
	return &Page{body}, nil
}

// MustParse is Parse for a page that is part of the program.
func MustParse(text string) *Page {
	p, err := Parse(text)
	if err != nil {
		panic(err)
	}
	return p
}

type parser struct{ rest string }

// list reads up to an end or else, which it gives back, or up to the end of the text.
func (p *parser) list() (out []node, end string, err error) {
	for {
		text, rest, found := strings.Cut(p.rest, "{{")
		if text != "" {
			out = append(out, node{text: text})
		}
		if !found {
			p.rest = ""
			return out, "", nil
		}
		action, rest, found := strings.Cut(rest, "}}")
		if !found {
			return nil, "", fmt.Errorf("{{ without }}")
		}
		p.rest = rest
		if action == "end" || action == "else" {
			return out, action, nil
		}
		n, err := p.action(action)
		if err != nil {
			return nil, "", err
		}
		out = append(out, n)
	}
}

func (p *parser) action(s string) (n node, err error) {
	words := strings.Fields(s)
	n.do, n.arg = "show", words
	if len(words) > 0 && (words[0] == "if" || words[0] == "range") {
		n.do, n.arg = words[0], words[1:]
	}
	if n.do == "range" && len(n.arg) == 4 && n.arg[2] == ":=" && strings.HasSuffix(n.arg[0], ",") {
		n.vars, n.arg = [2]string{strings.TrimSuffix(n.arg[0], ","), n.arg[1]}, n.arg[3:]
	}
	index := len(n.arg) == 3 && n.arg[0] == "index"
	if index {
		_, err = strconv.Atoi(n.arg[2])
	}
	if err != nil || !index && len(n.arg) != 1 || !strings.HasPrefix(n.arg[0], ".") && !strings.HasPrefix(n.arg[0], "$") &&
		!index {
		return n, fmt.Errorf("{{%s}} is not known", s)
	}
	if n.do == "show" {
		return n, nil
	}
	var end string
	if n.then, end, err = p.list(); err == nil && end == "else" {
		n.else_, end, err = p.list()
	}
	if err == nil && end != "end" {
		err = fmt.Errorf("{{%s}} without {{end}}", s)
	}
	return n, err
}

// Fill gives the page with its fields from data, a struct.
func (p *Page) Fill(data any) ([]byte, error) {
	f := filler{}
	v := reflect.ValueOf(data)
	f.vars = []variable{{"$", v}}
	err := f.list(p.body, v)
	return f.out, err
}

type variable struct {
	name  string
	value reflect.Value
}

type filler struct {
	out  []byte
	vars []variable
}

func (f *filler) list(list []node, dot reflect.Value) error {
	for i := range list {
		n := &list[i]
		if n.do == "" {
			f.out = append(f.out, n.text...)
			continue
		}
		v, err := f.value(n.arg, dot)
		if err != nil {
			return err
		}
		switch n.do {
		case "show":
			err = f.show(v)
		case "if":
			err = f.list(pick(!v.IsZero() && (v.Kind() != reflect.Slice || v.Len() > 0), n.then, n.else_), dot)
		case "range":
			err = f.each(n, v, dot)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func pick(yes bool, a, b []node) []node {
	if yes {
		return a
	}
	return b
}

func (f *filler) each(n *node, v, dot reflect.Value) error {
	if k := v.Kind(); k != reflect.Slice && k != reflect.Array {
		return fmt.Errorf("range over %s: want a list", v.Type())
	}
	if v.Len() == 0 {
		return f.list(n.else_, dot)
	}
	mark := len(f.vars)
	for i := range v.Len() {
		f.vars = append(f.vars[:mark], variable{n.vars[0], reflect.ValueOf(i)}, variable{n.vars[1], v.Index(i)})
		if err := f.list(n.then, v.Index(i)); err != nil {
			return err
		}
	}
	f.vars = f.vars[:mark]
	return nil
}

// value finds .Field, $, $name, each with .Field after it, or the element "index value number".
func (f *filler) value(arg []string, dot reflect.Value) (reflect.Value, error) {
	if arg[0] == "index" {
		v, err := f.value(arg[1:2], dot)
		if err != nil {
			return v, err
		}
		i, err := strconv.Atoi(arg[2])
		if k := v.Kind(); err != nil || k != reflect.Slice && k != reflect.Array || i < 0 || i >= v.Len() {
			return v, fmt.Errorf("index %s %s: no such element", arg[1], arg[2])
		}
		return v.Index(i), nil
	}
	name, fields, _ := strings.Cut(arg[0], ".")
	v := dot
	if name != "" {
		v = reflect.Value{}
		for _, x := range f.vars {
			if x.name == name {
				v = x.value // the innermost one stands last
			}
		}
		if !v.IsValid() {
			return v, fmt.Errorf("%s is not known", name)
		}
	}
	for fields != "" {
		var field string
		field, fields, _ = strings.Cut(fields, ".")
		if v.Kind() != reflect.Struct || !v.FieldByName(field).IsValid() {
			return v, fmt.Errorf("%s has no field %s", v.Type(), field)
		}
		v = v.FieldByName(field)
	}
	return v, nil
}

// escapes are those of html/template.
var escapes = strings.NewReplacer("\x00", "\ufffd", `"`, "&#34;", "&", "&amp;", "'", "&#39;", "+", "&#43;", "<", "&lt;",
	">", "&gt;")

func (f *filler) show(v reflect.Value) error {
	switch {
	case v.Type() == reflect.TypeFor[HTML]():
		f.out = append(f.out, v.String()...)
	case v.Kind() == reflect.String:
		f.out = append(f.out, escapes.Replace(v.String())...)
	case v.CanInt():
		f.out = strconv.AppendInt(f.out, v.Int(), 10)
	default:
		return fmt.Errorf("cannot show a %s", v.Type())
	}
	return nil
}
