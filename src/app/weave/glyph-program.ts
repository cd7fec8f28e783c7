import type { Attributes } from 'graphology-types';
import { NodeProgram, type ProgramInfo } from 'sigma/rendering';
import type { NodeDisplayData, RenderParams } from 'sigma/types';
import { floatColor } from 'sigma/utils';
import { ATLAS_KINDS, FILLS } from './glyph-atlas';

/** What a node of a map carries besides what every node has. */
interface GlyphData extends NodeDisplayData {
  kind?: (typeof ATLAS_KINDS)[number];
}

const VERTEX = `
attribute vec4 a_id;
attribute vec4 a_color;
attribute vec2 a_position;
attribute float a_size;
attribute float a_glyph;
uniform float u_sizeRatio;
uniform float u_pixelRatio;
uniform mat3 u_matrix;
varying vec4 v_color;
varying float v_glyph;
const float bias = 255.0 / 254.0;
void main() {
  gl_Position = vec4((u_matrix * vec3(a_position, 1)).xy, 0, 1);
  gl_PointSize = a_size / u_sizeRatio * u_pixelRatio * 2.0 / ${FILLS.toFixed(4)};
  v_glyph = a_glyph;
  #ifdef PICKING_MODE
  v_color = a_id;
  #else
  v_color = a_color;
  #endif
  v_color.a *= bias;
}`;

// Where it is picked the whole cell counts, so that a thin glyph is as easily caught as a full one.
const FRAGMENT = `
precision mediump float;
uniform sampler2D u_atlas;
varying vec4 v_color;
varying float v_glyph;
void main() {
  #ifdef PICKING_MODE
  gl_FragColor = v_color;
  #else
  vec2 at = vec2((v_glyph + gl_PointCoord.x) / ${ATLAS_KINDS.length.toFixed(1)}, gl_PointCoord.y);
  gl_FragColor = v_color * texture2D(u_atlas, at).a;
  #endif
}`;

const UNIFORMS = ['u_sizeRatio', 'u_pixelRatio', 'u_matrix', 'u_atlas'] as const;

/** A program for sigma that draws every kind as its glyph, all in one call: points that look up their shape in the atlas. */
export function glyphProgram(
  atlas: HTMLCanvasElement,
): typeof NodeProgram<string, Attributes, Attributes, Attributes> {
  return class GlyphProgram extends NodeProgram {
    #textures = new Map<WebGLRenderingContext | WebGL2RenderingContext, WebGLTexture | null>();

    getDefinition() {
      const { FLOAT, UNSIGNED_BYTE, POINTS } = WebGLRenderingContext;
      return {
        VERTICES: 1,
        VERTEX_SHADER_SOURCE: VERTEX,
        FRAGMENT_SHADER_SOURCE: FRAGMENT,
        METHOD: POINTS,
        UNIFORMS,
        ATTRIBUTES: [
          { name: 'a_position', size: 2, type: FLOAT },
          { name: 'a_size', size: 1, type: FLOAT },
          { name: 'a_color', size: 4, type: UNSIGNED_BYTE, normalized: true },
          { name: 'a_glyph', size: 1, type: FLOAT },
          { name: 'a_id', size: 4, type: UNSIGNED_BYTE, normalized: true },
        ],
      } as unknown as ReturnType<NodeProgram['getDefinition']>;
    }

    processVisibleItem(id: number, start: number, data: GlyphData): void {
      const { array } = this;
      array[start++] = data.x;
      array[start++] = data.y;
      array[start++] = data.size;
      array[start++] = floatColor(data.color);
      array[start++] = Math.max(0, ATLAS_KINDS.indexOf(data.kind ?? 'note'));
      array[start++] = id;
    }

    setUniforms(params: RenderParams, { gl, uniformLocations }: ProgramInfo): void {
      gl.uniform1f(uniformLocations['u_sizeRatio'] ?? null, params.sizeRatio);
      gl.uniform1f(uniformLocations['u_pixelRatio'] ?? null, params.pixelRatio);
      gl.uniformMatrix3fv(uniformLocations['u_matrix'] ?? null, false, params.matrix);
      gl.activeTexture(gl.TEXTURE0);
      gl.bindTexture(gl.TEXTURE_2D, this.#textureOf(gl));
      gl.uniform1i(uniformLocations['u_atlas'] ?? null, 0);
    }

    override kill(): void {
      for (const [gl, texture] of this.#textures) gl.deleteTexture(texture);
      this.#textures.clear();
      super.kill();
    }

    #textureOf(gl: WebGLRenderingContext | WebGL2RenderingContext): WebGLTexture | null {
      const held = this.#textures.get(gl);
      if (held !== undefined) return held;
      const texture = gl.createTexture();
      gl.bindTexture(gl.TEXTURE_2D, texture);
      gl.texImage2D(gl.TEXTURE_2D, 0, gl.RGBA, gl.RGBA, gl.UNSIGNED_BYTE, atlas);
      gl.generateMipmap(gl.TEXTURE_2D);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MIN_FILTER, gl.LINEAR_MIPMAP_LINEAR);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_MAG_FILTER, gl.LINEAR);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_S, gl.CLAMP_TO_EDGE);
      gl.texParameteri(gl.TEXTURE_2D, gl.TEXTURE_WRAP_T, gl.CLAMP_TO_EDGE);
      this.#textures.set(gl, texture);
      return texture;
    }
  } as unknown as ReturnType<typeof glyphProgram>;
}
