// Draws a mesh with WebGL: flat shading, one colour for each class of part, seen from a point on a sphere.

/** The variable of the style sheet for each class; the first that a part's class begins with counts. */
const COLOURS = [
  ["tyre far", "--pale"], ["tyre", "--faint"], ["other-side", "--pale"], ["ground", "--pale"],
  ["plate", "--second"], ["hole used", "--accent"], ["hole", "--s4"], ["mark body", "--accent"],
  ["mark", "--ink"], ["spring", "--s2"], ["damper", "--s5"], ["bar-link", "--s3"], ["hinge", "--pale"],
  ["member", "--pale"], ["", "--ink"],
];

/** Half the field of view, as its tangent. */
const LENS = 0.32;

const PLACE = `#version 300 es
layout(location=0) in vec4 at;
uniform mat3 turn; uniform vec3 about; uniform float away; uniform vec2 lens;
uniform vec3 colours[${COLOURS.length}];
out vec3 place; flat out vec3 colour;
void main() {
  place = turn * (at.xyz - about);
  place.z -= away;
  colour = colours[int(at.w)];
  float near = away * 0.05, far = away * 20.0;
  gl_Position = vec4(place.xy * lens, (-place.z * (far + near) - 2.0 * far * near) / (far - near), -place.z);
}`;

const PAINT = `#version 300 es
precision highp float;
in vec3 place; flat in vec3 colour; out vec4 painted;
void main() {
  vec3 normal = normalize(cross(dFdx(place), dFdy(place)));
  float light = 0.62 + 0.38 * abs(dot(normal, normalize(vec3(0.35, 0.75, 0.55))));
  painted = vec4(colour * light, 1.0);
}`;

/** @typedef {{ name: string, class: string, at: number[], faces: number[] }} Part */
/** @typedef {{ yaw: number, pitch: number, away: number, about: number[] }} Eye */

export class Solid {
  #count = 0;
  /** @type {(name: string) => WebGLUniformLocation | null} Place of a uniform in the program. */
  place = () => null;

  /** @param {HTMLCanvasElement} canvas Throws where the browser has no WebGL 2. */
  constructor(canvas) {
    const gl = canvas.getContext("webgl2", { alpha: false, antialias: true });
    if (!gl) throw new Error("no WebGL");
    this.canvas = canvas;
    this.gl = gl;
    this.start();
  }

  /** Makes what the graphics card holds; anew once it has lost it. */
  start() {
    const gl = this.gl;
    const program = /** @type {WebGLProgram} */ (gl.createProgram());
    for (const [kind, text] of /** @type {[number, string][]} */ ([[gl.VERTEX_SHADER, PLACE], [gl.FRAGMENT_SHADER, PAINT]])) {
      const shader = /** @type {WebGLShader} */ (gl.createShader(kind));
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    gl.useProgram(program);
    this.place = (name) => gl.getUniformLocation(program, name);
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, gl.createBuffer());
    gl.enableVertexAttribArray(0);
    gl.vertexAttribPointer(0, 4, gl.SHORT, false, 0, 0);
    gl.enable(gl.DEPTH_TEST);
    this.colour();
  }

  /** Reads the colours of the style sheet. */
  colour() {
    const style = getComputedStyle(document.documentElement);
    const read = (/** @type {string} */ name) =>
      [1, 3, 5].map((i) => parseInt(style.getPropertyValue(name).trim().slice(i, i + 2), 16) / 255);
    const [r, g, b] = read("--paper");
    this.gl.clearColor(r, g, b, 1);
    this.gl.uniform3fv(this.place("colours"), COLOURS.flatMap(([, name]) => read(name)));
  }

  /** @param {Part[]} parts */
  load(parts) {
    const corners = parts.reduce((sum, part) => sum + part.at.length / 3, 0);
    const at = new Int16Array(corners * 4);
    const faces = new Uint32Array(parts.reduce((sum, part) => sum + part.faces.length, 0));
    let [corner, face] = [0, 0];
    for (const part of parts) {
      const kind = COLOURS.findIndex(([name]) => part.class.startsWith(name));
      for (const index of part.faces) faces[face++] = corner + index;
      for (let i = 0; i < part.at.length; i += 3) at.set([part.at[i], part.at[i + 1], part.at[i + 2], kind], 4 * corner++);
    }
    const gl = this.gl;
    gl.bufferData(gl.ARRAY_BUFFER, at, gl.DYNAMIC_DRAW);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, faces, gl.DYNAMIC_DRAW);
    this.#count = faces.length;
  }

  /** @param {Eye} eye */
  draw({ yaw, pitch, away, about }) {
    const { gl, canvas } = this;
    const sharp = Math.min(devicePixelRatio, 2);
    const [width, height] = [canvas.clientWidth, canvas.clientHeight].map((v) => Math.max(1, Math.round(v * sharp)));
    if (canvas.width !== width || canvas.height !== height) [canvas.width, canvas.height] = [width, height];
    const [cy, sy, cp, sp] = [Math.cos(yaw), Math.sin(yaw), Math.cos(pitch), Math.sin(pitch)];
    gl.viewport(0, 0, width, height);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    // Columns: what the car's x, y and z are to the eye (right, up, towards it).
    gl.uniformMatrix3fv(this.place("turn"), false, [-sy, -sp * cy, cp * cy, cy, -sp * sy, cp * sy, 0, cp, sp]);
    gl.uniform3fv(this.place("about"), about);
    gl.uniform1f(this.place("away"), away);
    const least = Math.min(width, height);
    gl.uniform2f(this.place("lens"), least / (LENS * width), least / (LENS * height));
    gl.drawElements(gl.TRIANGLES, this.#count, gl.UNSIGNED_INT, 0);
  }
}
