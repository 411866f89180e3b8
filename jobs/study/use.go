package study

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"proofmass/jobs/study/source"
)

const maxUsed = 64

// use reads the files whose numbers the study shares with others. The study's own
// lines are read first, so that they win.
func (r *reader) use(v source.Field) {
	before := r.errs.Count()
	r.openAll(v)
	if r.errs.Count() > before {
		r.refuse("use")
	}
}

func (r *reader) openAll(v source.Field) {
	list, ok := v.List("a list of files is expected: [cells.yaml]")
	if !ok {
		return
	}
	if len(list) > maxUsed {
		v.Err(fmt.Sprintf("%d files", len(list)), "at most 64 may be used")
		return
	}
	for _, f := range list {
		if name, ok := f.Text("the name of a file is expected"); ok {
			r.openUsed(f, name)
		}
	}
}

// openUsed reads one used file, to be walked when the study's own lines are known.
func (r *reader) openUsed(f source.Field, name string) {
	path, stored, err := r.find(name)
	if err != nil {
		f.Err(source.Quote(name)+": "+err.Error(), "a file in the study's folder, or in one that --read FOLDER allows")
		return
	}
	if r.written == nil {
		r.written = map[string]string{}
	}
	if problem, allowed := r.keepable(path, stored); problem != "" {
		f.Err(source.Quote(name)+" "+problem, allowed)
		return
	}
	data, err := source.ReadStudy(path)
	if err != nil {
		f.Err(source.Quote(name)+": "+err.Error(), "a YAML file of inputs, own and vehicles")
		return
	}
	r.s.Files = append(r.s.Files, file(path, stored, data))
	r.written[path] = name
	if root, ok := source.Parse(path, data, r.errs); ok {
		r.used = append(r.used, usedFile{path, root})
	}
}

// mostStored is how long a file's name may be on the systems that the program is for.
const mostStored = 255

// keepable says what stands in the way of reading a file and keeping a copy of it under
// the stored name, "" if nothing does. Two names of one file, by another path or a link,
// are told apart from two files of one stored name.
func (r *reader) keepable(path, stored string) (problem, allowed string) {
	if len(stored) > mostStored {
		return fmt.Sprintf("would be kept under a name of %d bytes", len(stored)), "a result folder keeps copies under names of at most 255 bytes: shorten the name or its folders"
	}
	info, err := os.Stat(path)
	for i, known := range r.s.Files {
		other, bad := os.Stat(known.Path)
		switch {
		case err == nil && bad == nil && os.SameFile(info, other) && i == 0:
			return "is the study itself", "a study uses other files"
		case err == nil && bad == nil && os.SameFile(info, other):
			return "is used already, by the name " + source.Quote(cmp.Or(r.written[known.Path], known.Path)), "a file may be used once"
		case i > 0 && known.Name == stored:
			return "would be kept under the same name as " + source.Quote(known.Path), "a result folder keeps both: rename one"
		}
	}
	return "", ""
}

// find says where a used file lies and under what name a copy of it is kept. A file
// that is not beside the study is looked for in given/, where a result folder keeps
// its copies; in such a folder these come first.
func (r *reader) find(name string) (path, stored string, err error) {
	dir := filepath.Dir(r.s.Path)
	path = name
	if !filepath.IsAbs(name) {
		path = filepath.Join(dir, name)
	}
	stored = storedName(name)
	kept := filepath.Join(dir, "given", stored)
	isKept := exists(kept) && inside(kept, dir)
	if isKept && exists(filepath.Join(dir, "manifest.json")) {
		return kept, stored, nil // beside the study lie tables of the result, which may have the same name
	}
	allowed := r.allowed(path)
	if allowed && exists(path) {
		return path, stored, nil
	}
	if isKept {
		return kept, stored, nil
	}
	if !allowed {
		return "", "", fmt.Errorf("lies outside the study's folder")
	}
	return path, stored, nil
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// storedName is a plain file name in given/: the folders of the name, without what
// leads out of one, stand before it.
func storedName(name string) string {
	var parts []string
	for part := range strings.SplitSeq(filepath.ToSlash(filepath.Clean(name)), "/") {
		if part != "" && part != ".." && part != "." {
			parts = append(parts, part)
		}
	}
	plain := strings.NewReplacer(":", "_", `\`, "_").Replace(strings.Join(parts, "__"))
	if strings.HasPrefix(plain, ".") {
		return "_" + plain
	}
	return plain
}

// allowed reports whether a file may be read: it lies in the study's folder or in
// one that the command line names, whatever links lead there.
func (r *reader) allowed(path string) bool {
	for _, folder := range append([]string{filepath.Dir(r.s.Path)}, r.o.ReadFolders...) {
		if inside(path, folder) {
			return true
		}
	}
	return false
}

// inside reports whether path lies in folder once all links are followed. What does
// not exist is judged by its folder.
func inside(path, folder string) bool {
	real, err := filepath.EvalSymlinks(path)
	if err != nil {
		real = filepath.Clean(path)
		if dir, err := filepath.EvalSymlinks(filepath.Dir(path)); err == nil {
			real = filepath.Join(dir, filepath.Base(path))
		}
	}
	root, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return false
	}
	real, err1 := filepath.Abs(real)
	root, err2 := filepath.Abs(root)
	if err1 != nil || err2 != nil {
		return false
	}
	below, err := filepath.Rel(root, real)
	return err == nil && below != ".." && !strings.HasPrefix(below, ".."+string(filepath.Separator))
}

// aboutUsed checks what a used file says of itself, which nothing prints.
func (r *reader) aboutUsed(v source.Field) { v.Text("a text that says what the file is about") }

// usedFiles reads what the used files state, behind the study's own lines.
func (r *reader) usedFiles() {
	for _, used := range r.used {
		root := used.root
		top := map[string]source.Field{}
		take := source.Handlers{}
		for _, key := range []string{"format", "about", "inputs", "own", "vehicles"} {
			take[key] = func(v source.Field) { top[key] = v }
		}
		take["use"] = func(v source.Field) { v.Err("use in a used file", "only the study itself uses files") }
		before := r.errs.Count()
		if take.Read(root, "a used file"); r.errs.Count() > before {
			r.refuse("use")
		}
		for _, section := range []struct {
			key  string
			read func(v source.Field)
		}{{"format", r.format}, {"about", r.aboutUsed}, {"inputs", r.sharedInputs}, {"own", r.ownQuantities}, {"vehicles", r.templates}} {
			if v, ok := top[section.key]; ok {
				section.read(v)
			}
		}
	}
}

// Bounds on a file of values and on all files that a study reads.
const (
	maxValuesBytes = 16 << 20
	maxAllBytes    = 64 << 20
)

// valuesFile reads a file once, however many inputs take a column of it.
func (r *reader) valuesFile(name string) ([]byte, error) {
	path, stored, err := r.find(name)
	if err != nil {
		return nil, err
	}
	for _, known := range r.s.Files {
		if known.Path == path {
			return known.Data, nil
		}
	}
	if problem, _ := r.keepable(path, stored); problem != "" {
		return nil, errors.New(problem)
	}
	if len(r.s.Files) > maxUsed {
		return nil, fmt.Errorf("more than %d files are read", maxUsed)
	}
	data, err := source.ReadFile(path, maxValuesBytes, "at most 16777216 (16 MiB) are read")
	if err != nil {
		return nil, err
	}
	all := len(data)
	for _, f := range r.s.Files {
		all += len(f.Data)
	}
	if all > maxAllBytes {
		return nil, fmt.Errorf("with it the study's files have %d bytes; at most %d are read", all, maxAllBytes)
	}
	r.s.Files = append(r.s.Files, file(path, stored, data))
	return data, nil
}

func file(path, name string, data []byte) File {
	digest := sha256.Sum256(data)
	return File{Path: path, Name: name, Data: data, Digest: hex.EncodeToString(digest[:])}
}
