/** Everything for which a mesh, a figure from it, or its place in the aircraft is refused (rule E5). The words stand in the registry. */

/** The file itself. `where` is a line or a triangle in words, as "line 12" or "triangle 4". */
export type MeshFileRefusal =
  | { readonly code: 'mesh-too-large'; readonly megabytes: string; readonly most: string }
  | { readonly code: 'mesh-empty' }
  | { readonly code: 'mesh-not-known' }
  | { readonly code: 'mesh-cut-short'; readonly triangles: number; readonly expected: number; readonly found: number }
  | { readonly code: 'mesh-ends-early' }
  | { readonly code: 'mesh-line-unreadable'; readonly line: number; readonly text: string }
  | { readonly code: 'mesh-not-finite'; readonly where: string }
  | { readonly code: 'mesh-no-such-vertex'; readonly line: number; readonly vertex: number; readonly vertices: number }
  | { readonly code: 'mesh-without-triangles' };

/** What is asked of it. */
export type MeshFigureRefusal =
  | { readonly code: 'mesh-too-far'; readonly metres: string; readonly most: string }
  | { readonly code: 'mesh-without-area' }
  | { readonly code: 'solid-open'; readonly edges: number }
  | { readonly code: 'solid-turned-over'; readonly edges: number }
  | { readonly code: 'solid-without-volume' };

export type PlacementRefusal =
  | { readonly code: 'axes-along-one-line'; readonly line: string }
  | { readonly code: 'axes-mirror-the-part' }
  | { readonly code: 'axes-do-not-mirror' };

export type MeshRefusal = MeshFileRefusal | MeshFigureRefusal;
export type GeometryRefusal = MeshRefusal | PlacementRefusal;
