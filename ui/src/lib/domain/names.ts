import type { Layer, Stage } from '../generated/types';
import { say } from '../words/say';

/** A layer by name, a lift of the sub-base by its number. */
export function layerName(layer: Layer, lift: number | null | undefined): string {
  if (lift) return say('lift_name', { lift });
  return say(`layer.${layer}`);
}

/** A stage by name. */
export function stageName(stage: Stage): string {
  return say(`stage.${stage}`);
}

/** A layer and its lift as one word, for keys and choices. */
export function layerKey(layer: Layer, lift: number | null | undefined): string {
  return lift ? `${layer}:${lift}` : layer;
}
