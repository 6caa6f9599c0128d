/** Life of an animal in the hatchery, in order; `empty` is a state of a tank. */
export const STAGES = [
	"quarantine",
	"cold-hold",
	"conditioning",
	"ripe",
	"spawning",
	"embryo",
	"larva",
	"setting",
	"post-set",
	"nursery",
	"empty",
] as const;
export type Stage = (typeof STAGES)[number];
export const isStage = (text: string): text is Stage =>
	(STAGES as readonly string[]).includes(text);
