package schema

import (
	"regexp"
	"strings"

	"proofmass/jobs/study/uncertain"
)

// known is a number: written alone, or a mapping with the key of one distribution.
func (m *maker) known() node {
	object := m.object(known, map[string]node{"unit": ref("text"), "min": ref("scalar"), "max": ref("scalar"), "within": ref("scalar"), "ends": ref("scalar"), "smooth": ref("scalar"), "price": ref("scalar")})
	properties := object["properties"].(node)
	var ways []node
	for _, d := range uncertain.Distributions() {
		shape := m.shape(d)
		shape["description"] = d.Key + ": " + d.Parameters + ", " + d.Meaning
		properties[d.Key] = shape
		ways = append(ways, node{"required": []string{d.Key}})
	}
	object["oneOf"] = ways
	object["dependentRequired"] = node{"within": []string{"likely"}, "likely": []string{"within"}, "smooth": []string{"values"}}
	object["dependentSchemas"] = node{"ends": node{"anyOf": []node{{"required": []string{"triangular"}}, {"required": []string{"pert"}}}}}
	return node{"anyOf": []node{ref("scalar"), object}}
}

// shape is what stands behind the key of a distribution, taken from how its help writes it:
// [low, high] is a list of two, {mean, sd} a mapping of these keys, of which one with a
// default may be left out, "or" stands between two forms, anything else is written alone.
func (m *maker) shape(d uncertain.DistributionHelp) node {
	switch d.Key {
	case "percentiles": // of any two to nine
		return node{"type": "object", "additionalProperties": ref("scalar"), "minProperties": 2, "maxProperties": 9}
	case "one_of":
		return node{"anyOf": []node{list(ref("scalar"), 1), {"type": "object", "additionalProperties": ref("scalar"), "minProperties": 1}}}
	case "readings":
		return list(ref("scalar"), 4)
	case "values":
		values := m.object(columnOfValues, map[string]node{"file": ref("text"), "column": ref("text")})
		values["required"] = []string{"file", "column"}
		return values
	}
	var forms []node
	for _, form := range strings.Split(d.Parameters, " or ") {
		if shape := ofForm(form); shape != nil {
			forms = append(forms, shape)
		}
	}
	switch len(forms) {
	case 0:
		return node{"$ref": "#/$defs/scalar"}
	case 1:
		return forms[0]
	}
	return node{"oneOf": forms}
}

var inBrackets = regexp.MustCompile(`^([\[{])(.*)[\]}]$`)

func ofForm(form string) node {
	found := inBrackets.FindStringSubmatch(strings.TrimSpace(form))
	if found == nil {
		return nil
	}
	parts := strings.Split(found[2], ", ")
	if found[1] == "[" {
		shape := list(ref("scalar"), len(parts))
		shape["maxItems"] = len(parts)
		return shape
	}
	properties, required := node{}, []string{}
	for _, part := range parts {
		key, _, optional := strings.Cut(part, ": ")
		properties[key] = ref("scalar")
		if !optional {
			required = append(required, key)
		}
	}
	return node{"type": "object", "properties": properties, "required": required, "additionalProperties": false}
}
