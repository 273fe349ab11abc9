import { ColorManagement, LinearSRGBColorSpace, WebGLRenderer } from 'three';

/** Draws into a canvas. */
export interface Drawing {
  readonly renderer: WebGLRenderer;
  /** Pixels drawn for each pixel of the page where the picture stands still, both ways. */
  readonly still: number;
}

/** Names that renderers without a graphics card go by. */
const SOFTWARE = /swiftshader|llvmpipe|software|basic render/i;

/** Undefined where the browser has no WebGL. Colours are those of the style sheet as they are, without conversion. */
export function drawingOn(canvas: HTMLCanvasElement): Drawing | undefined {
  ColorManagement.enabled = false;
  const slow = isSoftware();
  if (slow === undefined) return undefined;
  try {
    // Without a graphics card, smooth edges cost too much while it moves. Standing pictures are drawn twice as fine
    // everywhere, which smooths their edges and what is seen through.
    const renderer = new WebGLRenderer({ canvas, antialias: !slow, powerPreference: 'high-performance' });
    renderer.outputColorSpace = LinearSRGBColorSpace;
    return { renderer, still: 2 };
  } catch {
    return undefined;
  }
}

function isSoftware(): boolean | undefined {
  const probe = document.createElement('canvas').getContext('webgl2');
  if (!probe) return undefined;
  const names = probe.getExtension('WEBGL_debug_renderer_info');
  const name = names ? String(probe.getParameter(names.UNMASKED_RENDERER_WEBGL)) : '';
  probe.getExtension('WEBGL_lose_context')?.loseContext();
  return SOFTWARE.test(name);
}
