package result

import (
	"errors"
	"io/fs"
	"os"
	"path"

	"proofmass/jobs/files"
)

// ours lists what is a result's but its manifest: files of this package's names, in given/ those that the manifest lists, then
// the folders that held them, deepest first. Whatever else somebody put there stays. Symbolic links are not followed.
func (f *Folder) ours(m *Manifest) []string {
	var found, folders []string
	_ = fs.WalkDir(os.DirFS(f.path), ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return nil
		case e.IsDir() && name != "." && !isOurFolder(name):
			return fs.SkipDir
		case e.IsDir() && name != ".":
			folders = append([]string{name}, folders...)
		case e.Type().IsRegular() && name != manifestName && isOurs(name, m):
			found = append(found, name)
		}
		return nil
	})
	return append(found, folders...)
}

func isOurs(name string, m *Manifest) bool {
	if name == StudyFile || name == PageFile || figureName.MatchString(name) || isTable(name) || files.IsTemporary(path.Base(name)) {
		return true
	}
	if _, _, ok := parseSliceName(name); ok || partName.MatchString(name) || isList(name) {
		return true
	}
	if m == nil {
		return false
	}
	_, given := m.Given[name]
	return given
}

func isOurFolder(name string) bool {
	_, _, round := parseSliceName(name + "/slice-00000000.parquet")
	_, _, kind := parseSliceName(name + "/0000/slice-00000000.parquet")
	part := partName.MatchString(name+"/slice-00000000.part") || partName.MatchString(name+"/0000/slice-00000000.part")
	return round || kind || part || name == givenFolder || name == figuresFolder || name == workFolder
}

// remove does not mind what is gone, nor a folder that still holds something of somebody else's.
func (f *Folder) remove(name string) error {
	err := f.fs.Remove(f.Path(name))
	if err == nil || errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if info, statErr := os.Lstat(f.Path(name)); statErr == nil && info.IsDir() {
		return nil
	}
	return err
}
