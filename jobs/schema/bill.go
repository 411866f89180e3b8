package schema

// bill is a mapping of weighed parts, or the file in which they stand.
func (m *maker) bill() node {
	values := map[string]node{"group": word(m.catalogue.BillGroups()...), "fate": word("kept", "removed", "changed", "added"), "material": ref("text")}
	for _, k := range m.sections[aLine].Keys {
		if values[k.Key] == nil {
			values[k.Key] = ref("known")
		}
	}
	line := m.object(aLine, values)
	texts := map[string]node{}
	for _, k := range m.sections[aBillFile].Keys {
		texts[k.Key] = ref("text")
	}
	file := m.object(aBillFile, texts)
	file["required"] = []string{"file", "mass"}
	lines := m.names(node{"anyOf": []node{ref("scalar"), line}}, 500)
	lines["properties"] = node{"file": false}
	return node{"anyOf": []node{lines, file}}
}
