package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
)

// TestFilesOfOtherEditors: the first files of every body mean the same with the byte order mark and the line ends that
// some editors write, and UTF-16 is told as such, whichever reader takes the file.
func TestFilesOfOtherEditors(t *testing.T) {
	for _, body := range []string{"web", "sheet", "part", "profile", "dose"} {
		dir := t.TempDir()
		var first, again, told strings.Builder
		if code := run([]string{"start", "-body", body, "-folder", dir}, &first, &told); code != 0 {
			t.Fatal(told.String())
		}
		args := func(ending string) []string {
			a := []string{"-html", "", "-site", filepath.Join(dir, "site.json"+ending), "-line",
				filepath.Join(dir, "line.json"+ending)}
			if body == "web" {
				a = append(a, "-survey", filepath.Join(dir, "survey.csv"+ending))
			}
			return a
		}
		for _, name := range []string{"line.json", "survey.csv", "site.json", "answers.json"} {
			b, err := os.ReadFile(filepath.Join(dir, name))
			if os.IsNotExist(err) && body != "web" {
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			text := strings.ReplaceAll(string(b), "\n", "\r\n")
			write(t, dir, name+".crlf", "\ufeff"+text)
			wide := []byte{0xff, 0xfe}
			for _, u := range utf16.Encode([]rune(text)) {
				wide = append(wide, byte(u), byte(u>>8))
			}
			write(t, dir, name+".wide", string(wide))
		}
		first.Reset()
		if code := run(args(""), &first, &told); code != 0 {
			t.Fatal(told.String())
		}
		if code := run(args(".crlf"), &again, &told); code != 0 || again.String() != first.String() {
			t.Errorf("%s: exit %d, %s\n%s", body, code, told.String(), again.String())
		}
		first.Reset()
		again.Reset()
		answers := filepath.Join(dir, "answers.json")
		if code := run([]string{"start", "-answers", answers}, &first, &told); code != 0 {
			t.Fatal(told.String())
		}
		if code := run([]string{"start", "-answers", answers + ".crlf"}, &again, &told); code != 0 ||
			again.String() != first.String() {
			t.Errorf("%s: answers: exit %d, %s", body, code, told.String())
		}
		told.Reset()
		code := run(args(".wide"), &again, &told)
		lines := strings.Split(strings.TrimSpace(told.String()), "\n")
		if want := len(args("")) / 2; code != 2 || len(lines) != want-1 { // no -html
			t.Errorf("%s: exit %d, %s", body, code, told.String())
		}
		for _, l := range lines {
			if !strings.Contains(l, "text in UTF-16: want text in UTF-8") {
				t.Error(l)
			}
		}
	}
}
