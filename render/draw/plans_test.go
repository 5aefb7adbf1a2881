package draw

import "platebook/rules"

var everyPlan = map[string]func(*rules.Assessment, Sheet) *Scene{
	"plate": PlatePlan, "indication": IndicationPlan, "shading": PlateShadingPlan, "margin": MarginPlan,
	"coverage": CoveragePlan, "reading": ReadingPlan, "photo": PhotoPlan, "repair": RepairPlan, "visual": VisualPlan,
}
