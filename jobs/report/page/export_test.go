package page

import "proofmass/jobs/report/draw"

// A Laid is a drawing of a page as it is laid out for one frame.
type Laid struct {
	Name  string
	Scene *draw.Scene
}

// LaidOut are all drawings of a folder's page, for each width and for a talk.
func LaidOut(folder string) ([]Laid, error) {
	d, err := load(folder)
	if err != nil {
		return nil, err
	}
	d.sections()
	var all []Laid
	taken := map[string]bool{}
	for i := range d.pictures {
		p := &d.pictures[i]
		name := fileName(p, taken)
		all = append(all, Laid{name + " wide", p.Scene(onWide)}, Laid{name + " narrow", p.Scene(onNarrow)})
		for _, f := range d.forms(name, p) {
			all = append(all, Laid{f.name + " as a file", f.scene})
		}
	}
	return all, nil
}
