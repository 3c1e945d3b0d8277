// A casting that was frozen in cells: the block cut through its axis, shaded by its heat, and in
// it the skin of the metal that is still liquid.  It belongs to a View of scene.js.
"use strict";

const COLDEST = 300;
const HOTTEST = 1100;
const OUTSIDE = 255;
const SIDES = [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]];
// Corners of a cell's face towards each side, counted so that the face looks outward.
const CORNERS = SIDES.map(([x, y, z]) => {
  if (x) return [[x, -x, -1], [x, x, -1], [x, x, 1], [x, -x, 1]];
  if (y) return [[y, y, -1], [-y, y, -1], [-y, y, 1], [y, y, 1]];
  return [[-z, -1, z], [z, -1, z], [z, 1, z], [-z, 1, z]];
});

export class CellsView {
  constructor(view, data) {
    this.view = view;
    this.data = data;
    this.group = new view.three.Group();
    this.index = new Map();
    const [, ny, nz] = data.shape;
    const { cell } = data.metal;
    this.key = (x, y, z) => (x * ny + y) * nz + z;
    for (let k = 0; k < data.metal.solid_s.length; k += 1) {
      this.index.set(this.key(cell[3 * k], cell[3 * k + 1], cell[3 * k + 2]), k);
    }
    this.plane = this.planeOf();
    this.group.add(this.plane);
    view.scene.add(this.group);
  }

  // The cut lies in the plane through the axis; it is see-through where there is no block.
  planeOf() {
    const { three } = this.view;
    const section = this.data.sections[0];
    if (!section) return new three.Group();
    const { side_mm, origin_mm } = this.data;
    const [wide, high] = [section.wide * section.every * side_mm, section.high * section.every * side_mm];
    this.texels = new Uint8Array(4 * section.wide * section.high);
    this.texture = new three.DataTexture(this.texels, section.wide, section.high);
    this.texture.magFilter = three.NearestFilter;
    const stuff = new three.MeshBasicMaterial({ map: this.texture, transparent: true, side: three.DoubleSide });
    const made = new three.Mesh(new three.PlaneGeometry(wide, high), stuff);
    made.rotation.x = Math.PI / 2;
    made.position.set(origin_mm[0] + (wide - side_mm) / 2, 0, origin_mm[2] + (high - side_mm) / 2);
    return made;
  }

  show() {
    const { view, data } = this;
    this.group.visible = true;
    view.scaleOf(view.heats.map((_, k) => [
      `h${k}`, k % 3 ? "" : view.heat(COLDEST + ((HOTTEST - COLDEST) * k) / view.heats.length, !k),
    ]));
    if (!data.sections.length) return;
    view.slider(data.sections.length - 1, (at) => this.told(at));
  }

  told(at) {
    const section = this.data.sections[at];
    this.shade(section);
    const liquid = this.skin(section.time_s);
    this.view.draw();
    const known = section.C.filter((heat) => heat !== null);
    const most = known.reduce((a, b) => Math.max(a, b), -Infinity);
    const all = this.data.metal.solid_s.length;
    const share = all ? Math.round((100 * liquid) / all) : 0;
    return `${this.view.pointed(time(section.time_s))} after the pour: ${share} in 100 of the metal in cells is not solid; ` +
      `the hottest of the cut is ${this.view.heat(most)}`;
  }

  shade(section) {
    const { heats } = this.view;
    section.C.forEach((heat, k) => {
      const at = 4 * k;
      if (heat === null) {
        this.texels[at + 3] = 0;
        return;
      }
      const step = Math.floor(((heat - COLDEST) / (HOTTEST - COLDEST)) * heats.length);
      const shade = heats[Math.min(heats.length - 1, Math.max(0, step))];
      for (let part = 0; part < 3; part += 1) this.texels[at + part] = Math.round(255 * shade[part]);
      this.texels[at + 3] = OUTSIDE;
    });
    this.texture.needsUpdate = true;
  }

  // Faces between what is liquid and what is not; thin parts are short strokes.
  skin(now) {
    const { three } = this.view;
    const { side_mm, origin_mm, metal, thin } = this.data;
    const isLiquid = (k) => k !== undefined && (metal.solid_s[k] === null || metal.solid_s[k] > now);
    const places = [];
    const turns = [];
    let count = 0;
    for (let k = 0; k < metal.solid_s.length; k += 1) {
      if (!isLiquid(k)) continue;
      count += 1;
      const [x, y, z] = [metal.cell[3 * k], metal.cell[3 * k + 1], metal.cell[3 * k + 2]];
      SIDES.forEach(([dx, dy, dz], side) => {
        if (isLiquid(this.index.get(this.key(x + dx, y + dy, z + dz)))) return;
        const first = places.length / 3;
        for (const corner of CORNERS[side]) {
          places.push(
            origin_mm[0] + side_mm * (x + corner[0] / 2),
            origin_mm[1] + side_mm * (y + corner[1] / 2),
            origin_mm[2] + side_mm * (z + corner[2] / 2),
          );
        }
        turns.push(first, first + 1, first + 2, first, first + 2, first + 3);
      });
    }
    const points = [];
    thin.solid_s.forEach((solid, k) => {
      if (solid !== null && solid <= now) return;
      const [x, y, z] = thin.place_mm.slice(3 * k, 3 * k + 3);
      points.push(x, y, z - side_mm / 2, x, y, z + side_mm / 2);
    });
    this.dropSkin();
    const geometry = new three.BufferGeometry();
    geometry.setAttribute("position", new three.Float32BufferAttribute(places, 3));
    geometry.setIndex(turns);
    const shade = new three.Color().fromArray(this.view.heats[this.view.heats.length - 2]);
    this.solid = new three.Mesh(geometry, new three.MeshBasicMaterial({ color: shade, side: three.DoubleSide }));
    this.outline = new three.LineSegments(
      edgesOf(three, geometry), new three.LineBasicMaterial({ color: this.view.plain("--ink"), transparent: true, opacity: 0.35 }),
    );
    const dots = new three.BufferGeometry();
    dots.setAttribute("position", new three.Float32BufferAttribute(points, 3));
    this.dots = new three.LineSegments(dots, new three.LineBasicMaterial({ color: this.view.plain("--ember") }));
    this.group.add(this.solid, this.outline, this.dots);
    return count;
  }

  dropSkin() {
    for (const each of [this.solid, this.outline, this.dots]) {
      if (!each) continue;
      this.group.remove(each);
      each.geometry.dispose();
      each.material.dispose();
    }
  }

  dispose() {
    this.dropSkin();
    if (this.texture) this.texture.dispose();
    if (this.plane.geometry) this.plane.geometry.dispose();
  }
}

// Lines round every face, so that steps of the skin can be told apart.
function edgesOf(three, geometry) {
  const places = geometry.getAttribute("position");
  const points = [];
  for (let first = 0; first < places.count; first += 4) {
    for (let k = 0; k < 4; k += 1) {
      for (const at of [first + k, first + ((k + 1) % 4)]) {
        points.push(places.getX(at), places.getY(at), places.getZ(at));
      }
    }
  }
  const made = new three.BufferGeometry();
  made.setAttribute("position", new three.Float32BufferAttribute(points, 3));
  return made;
}

function time(seconds) {
  return seconds < 60 ? `${Number(seconds.toPrecision(2))} s` : `${Number((seconds / 60).toPrecision(2))} min`;
}
