/** Entries by the hundred thousand as dots under a map: their places go to the graphics card once, a frame moves only the camera. */
import type Sigma from 'sigma';
import { createNormalizationFunction } from 'sigma/utils';
import type { Dots } from './map-scene';

export const DOT = { plain: 0, lit: 1, hidden: 2, chosen: 3 } as const;

/** How strongly a dot is drawn that a search has not lit; all others stand in full. */
const UNLIT = 0.22;

const VERTEX = `
attribute vec2 a_place;
attribute vec4 a_colour;
attribute float a_state;
uniform mat3 u_matrix;
uniform float u_size;
uniform float u_dim;
uniform vec4 u_ink;
uniform vec4 u_act;
varying vec4 v_colour;
void main() {
  gl_Position = vec4((u_matrix * vec3(a_place, 1)).xy, 0, 1);
  bool lit = a_state > 0.5 && a_state < 1.5;
  bool chosen = a_state > 2.5;
  gl_PointSize = (a_state > 1.5 && a_state < 2.5) ? 0.0 : (lit || chosen) ? max(u_size * 1.7, 4.0) : u_size;
  float alpha = lit || chosen ? 1.0 : u_dim;
  vec4 colour = chosen ? u_act : lit ? u_ink : a_colour;
  v_colour = vec4(colour.rgb * alpha, alpha);
}`;
const FRAGMENT = `
precision mediump float;
varying vec4 v_colour;
void main() {
  if (length(gl_PointCoord - 0.5) > 0.5) discard;
  gl_FragColor = v_colour;
}`;

export class DotLayer {
  readonly #gl: WebGLRenderingContext;
  readonly #canvas: HTMLCanvasElement;
  #program: WebGLProgram | undefined;
  #count = 0;
  #states = new Uint8Array(0);
  #buffers: WebGLBuffer[] = [];
  #anyLit = false;
  /** Side of a unit of the plane, for the size of a dot. */
  #unit = 1;

  private constructor(
    canvas: HTMLCanvasElement,
    gl: WebGLRenderingContext,
    public colours: { ink: string; act: string },
  ) {
    this.#canvas = canvas;
    this.#gl = gl;
  }

  /** Lays the layer under a map's links; undefined where the browser gives no further context. */
  static over(sigma: Sigma, colours: { ink: string; act: string }): DotLayer | undefined {
    const canvas = sigma.createLayer<HTMLCanvasElement>('dots', 'canvas', { beforeLayer: 'edges' });
    canvas.style.pointerEvents = 'none';
    const gl = canvas.getContext('webgl', { antialias: false, premultipliedAlpha: true });
    if (!gl) return undefined;
    return new DotLayer(canvas, gl, colours);
  }

  /** Takes the places and colours of all dots; `box` is that of the map, y upward. */
  set(
    dots: Dots,
    colourOf: (region: number) => string,
    box: { x: [number, number]; y: [number, number] },
  ): void {
    const gl = this.#gl;
    this.#count = dots.places.length / 2;
    this.#states = new Uint8Array(this.#count);
    const normal = createNormalizationFunction(box);
    this.#unit = 1 / normal.ratio;
    const places = new Float32Array(dots.places.length);
    const colours = new Uint8Array(this.#count * 4);
    const known = new Map<number, readonly number[]>();
    for (let at = 0; at < this.#count; at++) {
      const point = normal({ x: dots.places[at * 2]!, y: -dots.places[at * 2 + 1]! });
      places[at * 2] = point.x;
      places[at * 2 + 1] = point.y;
      const region = dots.regionOf[at]!;
      let colour = known.get(region);
      if (!colour) known.set(region, (colour = bytesOf(colourOf(region))));
      colours.set(colour, at * 4);
    }
    this.#free();
    this.#program = programOf(gl);
    this.#buffers = [places, colours, this.#states].map((data, at) => {
      const buffer = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
      gl.bufferData(gl.ARRAY_BUFFER, data, at === 2 ? gl.DYNAMIC_DRAW : gl.STATIC_DRAW);
      return buffer;
    });
  }

  /** Takes all dots away. */
  clear(): void {
    this.#count = 0;
  }

  /** Sets what each dot is; `stateOf` is asked for every one. */
  mark(stateOf: (dot: number) => number): void {
    const gl = this.#gl;
    this.#anyLit = false;
    for (let at = 0; at < this.#count; at++) {
      const state = stateOf(at);
      this.#states[at] = state;
      if (state === DOT.lit) this.#anyLit = true;
    }
    if (!this.#buffers[2]) return;
    gl.bindBuffer(gl.ARRAY_BUFFER, this.#buffers[2]);
    gl.bufferSubData(gl.ARRAY_BUFFER, 0, this.#states);
  }

  /** Draws a frame as the map's camera now stands. */
  draw(sigma: Sigma): void {
    const gl = this.#gl;
    const { width, height, matrix, pixelRatio } = sigma.getRenderParams();
    const [wide, high] = [Math.round(width * pixelRatio), Math.round(height * pixelRatio)];
    if (this.#canvas.width !== wide || this.#canvas.height !== high) {
      [this.#canvas.width, this.#canvas.height] = [wide, high];
      this.#canvas.style.width = `${width}px`;
      this.#canvas.style.height = `${height}px`;
    }
    gl.viewport(0, 0, wide, high);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT);
    if (!this.#program || this.#count === 0) return;
    gl.useProgram(this.#program);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.ONE, gl.ONE_MINUS_SRC_ALPHA);
    const uniform = (name: string): WebGLUniformLocation | null =>
      gl.getUniformLocation(this.#program!, name);
    const across = ((matrix[0] ?? 1) * this.#unit * wide) / 2;
    gl.uniformMatrix3fv(uniform('u_matrix'), false, matrix);
    gl.uniform1f(
      uniform('u_size'),
      Math.max(1.3, Math.min(7, Math.abs(across) * 0.62)) * pixelRatio,
    );
    gl.uniform1f(uniform('u_dim'), this.#anyLit ? UNLIT : 1);
    const colour = (hex: string): number[] => bytesOf(hex).map((byte) => byte / 255);
    gl.uniform4fv(uniform('u_ink'), colour(this.colours.ink));
    gl.uniform4fv(uniform('u_act'), colour(this.colours.act));
    const layout = [
      ['a_place', 2, gl.FLOAT, false],
      ['a_colour', 4, gl.UNSIGNED_BYTE, true],
      ['a_state', 1, gl.UNSIGNED_BYTE, false],
    ] as const;
    layout.forEach(([name, size, type, normalised], at) => {
      const place = gl.getAttribLocation(this.#program!, name);
      gl.bindBuffer(gl.ARRAY_BUFFER, this.#buffers[at]!);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, size, type, normalised, 0, 0);
    });
    gl.drawArrays(gl.POINTS, 0, this.#count);
  }

  /** Gives the context back to the browser, which has only a few. */
  kill(): void {
    this.#free();
    this.#gl.getExtension('WEBGL_lose_context')?.loseContext();
  }

  #free(): void {
    for (const buffer of this.#buffers) this.#gl.deleteBuffer(buffer);
    this.#buffers = [];
    if (this.#program) this.#gl.deleteProgram(this.#program);
    this.#program = undefined;
  }
}

function bytesOf(hex: string): number[] {
  const six = /^#(\w\w)(\w\w)(\w\w)$/.exec(hex.trim());
  return six ? [...six.slice(1).map((pair) => parseInt(pair, 16)), 255] : [0, 0, 0, 255];
}

function programOf(gl: WebGLRenderingContext): WebGLProgram {
  const program = gl.createProgram();
  for (const [type, source] of [
    [gl.VERTEX_SHADER, VERTEX],
    [gl.FRAGMENT_SHADER, FRAGMENT],
  ] as const) {
    const shader = gl.createShader(type)!;
    gl.shaderSource(shader, source);
    gl.compileShader(shader);
    gl.attachShader(program, shader);
    gl.deleteShader(shader);
  }
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) {
    throw new Error(`dots do not draw: ${gl.getProgramInfoLog(program) ?? ''}`);
  }
  return program;
}
