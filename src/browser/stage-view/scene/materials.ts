import { BackSide, type Color, DoubleSide, FrontSide, ShaderMaterial, Vector2, Vector4 } from 'three';
import type { Vec3 } from '../../../geometry/vector.js';

const PLACED = `
#ifdef CUT
vWorld = (modelMatrix * vec4(position, 1.0)).xyz;
#endif
gl_Position = projectionMatrix * (modelViewMatrix * vec4(position, 1.0));
`;

const WORLD = `
#ifdef CUT
varying vec3 vWorld;
varying vec3 vTint;
uniform vec4 cut;
#endif
`;

/** Light from above the left shoulder of the viewer, told for each corner: faces are flat, so nothing finer is seen. */
const FACE_VERTEX = `
${WORLD}
varying vec3 vColour;
attribute vec3 tint;
void main() {
  ${PLACED}
  vec3 n = normalize(mat3(modelViewMatrix) * normal);
  float light = 0.5 + 0.5 * dot(n, vec3(-0.32, 0.62, 0.72));
  vColour = tint * (0.52 + 0.5 * light);
#ifdef CUT
  vTint = tint;
#endif
}`;

/** Where the section plane cuts a solid open its inside is seen, which is hatched flat as on a drawing. */
const FACE_FRAGMENT = `
${WORLD}
varying vec3 vColour;
void main() {
#ifdef THROUGH
  if (mod(gl_FragCoord.x + gl_FragCoord.y, 2.0) < 1.0) discard;
#endif
#ifdef CUT
  if (dot(vWorld, cut.xyz) > cut.w) discard;
  if (!gl_FrontFacing) {
    float stripe = step(mod(gl_FragCoord.x + gl_FragCoord.y, 8.0), 1.5);
    gl_FragColor = vec4(vTint * (1.0 - 0.35 * stripe), 1.0);
    return;
  }
#endif
  gl_FragColor = vec4(vColour, 1.0);
}`;

const LINE_VERTEX = `
${WORLD}
varying vec3 vColour;
attribute vec3 tint;
void main() {
  ${PLACED}
  vColour = tint;
#ifdef CUT
  vTint = tint;
#endif
}`;

const LINE_FRAGMENT = `
${WORLD}
varying vec3 vColour;
void main() {
#ifdef CUT
  if (dot(vWorld, cut.xyz) > cut.w) discard;
#endif
  gl_FragColor = vec4(vColour, 1.0);
}`;

/** The back of the solid, grown by pixels: what looks out around it is its outline. */
const OUTLINE_VERTEX = `
${WORLD}
uniform vec2 grow;
uniform vec3 colour;
varying vec3 vColour;
void main() {
  ${PLACED}
  vColour = colour;
#ifdef CUT
  vTint = colour;
#endif
  vec2 out2 = (mat3(modelViewMatrix) * normal).xy;
  gl_Position.xy += out2 / max(length(out2), 0.2) * grow;
}`;

/** Cut and pixels that all materials of a view share. */
export class Shading {
  private readonly cut = { value: new Vector4(0, 0, 0, 0) };
  private readonly grow = { value: new Vector2(0, 0) };
  private readonly all: ShaderMaterial[] = [];
  private isCut = false;

  /** Of flat faces. */
  faces(): ShaderMaterial {
    const material = this.made(FACE_VERTEX, FACE_FRAGMENT, {});
    material.polygonOffset = true;
    material.polygonOffsetFactor = 1;
    material.polygonOffsetUnits = 2;
    return material;
  }

  lines(): ShaderMaterial {
    return this.made(LINE_VERTEX, LINE_FRAGMENT, {});
  }

  /** Of faces that nothing hides, or that shimmer through what would hide them. */
  above(through: boolean): ShaderMaterial {
    const material = this.faces();
    material.depthTest = false;
    material.depthWrite = false;
    this.seeThrough(material, through);
    return material;
  }

  /** Whether every other pixel lets through what is behind. */
  seeThrough(material: ShaderMaterial, through: boolean): void {
    define(material, 'THROUGH', through);
  }

  outline(colour: Color): ShaderMaterial {
    const material = this.made(OUTLINE_VERTEX, LINE_FRAGMENT, { colour: { value: colour }, grow: this.grow });
    material.side = BackSide;
    return material;
  }

  /** Leaves out what lies beyond the plane; undefined: nothing. */
  section(plane: readonly [normal: Vec3, offset: number] | undefined): void {
    if (plane) this.cut.value.set(...plane[0], plane[1]);
    if ((plane !== undefined) === this.isCut) return;
    this.isCut = plane !== undefined;
    for (const material of this.all) this.adjust(material);
  }

  /** Size of the picture in pixels of the page, and how wide an outline is in them. */
  resize(width: number, height: number, outline: number): void {
    this.grow.value.set((2 * outline) / Math.max(1, width), (2 * outline) / Math.max(1, height));
  }

  /** Gives back what the graphics card keeps for them. */
  dispose(): void {
    for (const material of this.all) material.dispose();
  }

  private adjust(material: ShaderMaterial): void {
    define(material, 'CUT', this.isCut);
    if (material.side !== BackSide) material.side = this.isCut ? DoubleSide : FrontSide;
  }

  private made(vertexShader: string, fragmentShader: string, uniforms: ShaderMaterial['uniforms']) {
    const material = new ShaderMaterial({
      vertexShader,
      fragmentShader,
      uniforms: { ...uniforms, cut: this.cut },
    });
    material.defines = {};
    this.all.push(material);
    return material;
  }
}

function define(material: ShaderMaterial, name: 'CUT' | 'THROUGH', on: boolean): void {
  const defines = material.defines as Record<string, string>;
  if (name in defines === on) return;
  const others = Object.entries(defines).filter(([other]) => other !== name);
  material.defines = Object.fromEntries(on ? [...others, [name, '']] : others);
  material.needsUpdate = true;
}
