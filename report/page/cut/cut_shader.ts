// The tool's lower envelope along one straight piece of a move, for each cell of the stock: the same closed forms as
// sim/stock/cut_kernel.cpp. What it writes is a depth: the depth test then keeps the lowest surface of all moves.

// Pieces come as textures, so that any range of them is drawn by vertex numbers alone.
export const pieceLookup = /* glsl */ `
uniform highp sampler2D points;
uniform int pointsWide;
vec3 pointAt(int i) { return texelFetch(points, ivec2(i % pointsWide, i / pointsWide), 0).xyz; }
`;

export const cutVertex = /* glsl */ `
precision highp float;
precision highp int;
${pieceLookup}
uniform vec2 size;      // of the stock in plan, mm
uniform float opens;    // radius within which nothing is left above the tool
uniform vec3 lastPoint; // end of the last piece of the range, which the tool may not have finished
uniform int lastPiece;
flat out vec3 from;
flat out vec3 to;
flat out int pieceNumber;
out vec2 at;
void main() {
  int piece = gl_VertexID / 6, corner = gl_VertexID % 6;
  from = pointAt(piece);
  to = piece == lastPiece ? lastPoint : pointAt(piece + 1);
  pieceNumber = piece;
  vec2 side = to.xy - from.xy;
  float way = length(side);
  // A box along the piece holds far fewer cells than one along the axes.
  vec2 along = way > 0.0 ? side / way : vec2(1.0, 0.0), across = vec2(-along.y, along.x);
  bool far = corner == 1 || corner == 2 || corner == 4, left = corner == 2 || corner == 4 || corner == 5;
  vec2 k = vec2(far ? 1.0 : -1.0, left ? 1.0 : -1.0);
  at = (k.x > 0.0 ? to.xy : from.xy) + along * k.x * opens + across * k.y * opens;
  gl_Position = vec4(at / size * 2.0 - 1.0, 0.0, 1.0);
}
`;

export const cutFragment = /* glsl */ `
precision highp float;
precision highp int;
uniform float opens, radius, flatRadius, arcRadius, rise;
uniform int under;          // 0 flat, 1 ball, 2 cone, 3 bull, 4 profile
uniform float heights[33];  // profile: at even steps of the radius
uniform vec2 depthRange;    // heights of depth 0 and 1, mm
flat in vec3 from;
flat in vec3 to;
flat in int pieceNumber;
in vec2 at;
out vec4 piece;

float surface(float d) {
  if (under == 0) return 0.0;
  if (under == 1) return radius - sqrt(max(radius * radius - d * d, 0.0));
  if (under == 2) return rise * max(d - flatRadius, 0.0);
  if (under == 3) {
    float e = max(d - flatRadius, 0.0);
    return arcRadius - sqrt(max(arcRadius * arcRadius - e * e, 0.0));
  }
  float step = clamp(d / radius * 32.0, 0.0, 32.0);
  int i = min(int(step), 31);
  return mix(heights[i], heights[i + 1], step - float(i));
}

// How far ahead of the axis, against the climb, the lowest contact lies; q: distance from the path, chord: half of what
// the tool covers there.
float lead(float q, float chord, float slope) {
  float m = abs(slope), u;
  if (under == 0) {
    u = chord;
  } else if (under == 1) {
    u = chord * m / sqrt(1.0 + m * m);
  } else if (under == 2) {
    u = chord;
    float onFlat = sqrt(max(flatRadius * flatRadius - q * q, 0.0));
    if (m < rise) u = min(max(q * m / sqrt(rise * rise - m * m), onFlat), chord);
  } else {
    float low = 0.0, high = chord;
    for (int k = 0; k < 14; ++k) {
      float a = (low + high) * 0.5, b = a + (high - low) * 0.01;
      if (surface(sqrt(q * q + b * b)) - surface(sqrt(q * q + a * a)) < m * (b - a)) low = a; else high = b;
    }
    u = (low + high) * 0.5;
  }
  return slope > 0.0 ? u : -u;
}

void main() {
  vec2 way = to.xy - from.xy, p = at - from.xy;
  float whole = length(way), tip = min(from.z, to.z), d = length(p);
  if (whole > 1e-6) {
    vec2 u = way / whole;
    float slope = (to.z - from.z) / whole;
    float q = abs(p.x * u.y - p.y * u.x), along = dot(p, u);
    float beside = along - clamp(along, 0.0, whole);
    if (q * q + beside * beside > opens * opens) discard;
    float chord = sqrt(max(opens * opens - q * q, 0.0));
    float s = clamp(slope == 0.0 ? along : along - lead(q, chord, slope), 0.0, whole);
    d = length(vec2(q, along - s));
    tip = from.z + s * slope;
  } else if (d > opens) {
    discard;
  }
  gl_FragDepth = clamp((tip + surface(d) - depthRange.x) / (depthRange.y - depthRange.x), 0.0, 1.0);
  uint n = uint(pieceNumber) + 1u;
  piece = vec4(n & 255u, (n >> 8) & 255u, (n >> 16) & 255u, (n >> 24) & 255u) / 255.0;
}
`;
