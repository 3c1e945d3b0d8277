// The piece in the round: tubes, blades and lumps of the network in one mesh, unlit, so that a
// shade is read as it is written.  It is drawn only when something has changed.
"use strict";

const SIDES = 8;
const FLAT_SIDES = 4;
const HIGH_OVER_WIDE = 1.15;
const HEATS = 10;
const MOST_EDGED = 1500;
const COLDEST = 20;
const HOTTEST = 800;
const RUN_FOR = 20000;
const RUN_LEAST = 120;
const calm = window.matchMedia("(prefers-reduced-motion: reduce)");

let view = null;

// Show the piece in one of its ways; "plate" is the drawing.
export async function show(box, way) {
  const plate = document.getElementById("p-plate");
  const legend = document.getElementById("p-legend");
  if (way === "plate") {
    if (view) view.run(false);
    caption(way);
    box.hidden = true;
    plate.hidden = false;
    legend.hidden = false;
    return;
  }
  if (!view) {
    try {
      view = await begin(box);
    } catch {
      box.hidden = false;
      box.textContent = box.dataset.none;
      return;
    }
  }
  box.hidden = false;
  plate.hidden = true;
  legend.hidden = way !== "chance";
  caption(way);
  view.turnTo(way);
}

// What the shades mean is another thing for each way.
function caption(way) {
  const told = document.getElementById("p-caption");
  if (told.dataset[way]) told.textContent = told.dataset[way];
}

async function begin(box) {
  const three = await import(box.dataset.three);
  const made = new View(box, three, await load(box));
  document.addEventListener("piece:moved", async () => made.take(await load(box)));
  return made;
}

async function load(box) {
  const answer = await fetch(box.dataset.src, { headers: { accept: "application/json" } });
  if (!answer.ok) throw new Error("no scene");
  return answer.json();
}

// A colour as the style of the page writes it.
function colourOf(name) {
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  const shape = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  shape.setAttribute("class", name);
  svg.append(shape);
  document.body.append(svg);
  const found = getComputedStyle(shape).fill;
  svg.remove();
  return found.match(/[\d.]+/g).slice(0, 3).map((part) => Number(part) / 255);
}

function words(tag, text, look) {
  const made = document.createElement(tag);
  if (text !== undefined) made.textContent = text;
  if (look) made.className = look;
  return made;
}

export class View {
  constructor(box, three, data) {
    this.box = box;
    this.three = three;
    this.way = "chance";
    this.moments = new Map();
    this.running = 0;
    this.picked = null;
    this.heats = Array.from({ length: HEATS }, (_, k) => colourOf(`h${k}`));
    this.build();
    this.take(data);
  }

  build() {
    const { three, box } = this;
    box.replaceChildren();
    this.renderer = new three.WebGLRenderer({ antialias: true, alpha: true, preserveDrawingBuffer: true });
    // Colours are those of the page, byte for byte.
    this.renderer.outputColorSpace = "srgb-linear";
    this.canvas = this.renderer.domElement;
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "img");
    this.canvas.setAttribute("aria-label", box.dataset.name);
    this.said = words("p", "", "picked");
    this.said.setAttribute("role", "status");
    this.scale = words("ul", undefined, "scale-l");
    this.time = words("div", undefined, "time");
    this.curve = words("div", undefined, "curve");
    this.near = words("p", undefined, "near");
    for (const [sign, by, name] of [["−", 1 / 1.35, box.dataset.farther], ["+", 1.35, box.dataset.nearer]]) {
      const button = words("button", sign);
      button.type = "button";
      button.setAttribute("aria-label", name);
      button.addEventListener("click", () => {
        this.camera.zoom = Math.min(12, Math.max(0.7, this.camera.zoom * by));
        this.camera.updateProjectionMatrix();
        this.draw();
      });
      this.near.append(button);
    }
    box.append(this.canvas, this.near, this.said, this.scale, this.time, this.curve);
    this.scene = new three.Scene();
    this.camera = new three.OrthographicCamera(-1, 1, 1, -1, -1000, 1000);
    this.controls = new three.OrbitControls(this.camera, this.canvas);
    this.controls.enableDamping = false;
    // The wheel scrolls the page; two buttons bring the piece nearer.
    this.controls.enableZoom = false;
    this.controls.addEventListener("change", () => this.draw());
    this.controls.addEventListener("start", () => this.canvas.classList.add("held"));
    this.controls.addEventListener("end", () => this.canvas.classList.remove("held"));
    this.canvas.addEventListener("keydown", (event) => this.turnByKey(event));
    this.listenToPicks();
    new ResizeObserver(() => this.fit()).observe(box);
    calm.addEventListener("change", () => {
      this.run(false);
      const play = this.time.querySelector(".play");
      if (play) play.hidden = calm.matches;
    });
  }

  // A number with the sign that the caster has chosen between whole and parts.
  pointed(text) {
    return this.box.dataset.point === "," ? text.replace(".", ",") : text;
  }

  take(data) {
    this.data = data;
    const { three } = this;
    this.dropCells();
    if (this.group) {
      this.scene.remove(this.group);
      this.group.traverse((each) => each.geometry && each.geometry.dispose());
    }
    this.group = new three.Group();
    this.mesh = this.meshOf(data.segments);
    this.shapes = [this.mesh, this.cup(data)];
    if (data.segments.part.length <= MOST_EDGED) this.shapes.push(this.edges());
    this.group.add(...this.shapes, ...this.flask(data));
    this.scene.add(this.group);
    this.middle = (data.button_mm.height - data.flask_mm.height) / 2 + data.button_mm.height / 2;
    this.reach = Math.max(data.flask_mm.height, data.flask_mm.inside) * 0.62;
    if (!this.placed) {
      this.controls.target.set(0, 0, this.middle);
      this.camera.up.set(0, 0, 1);
      const lean = (20 * Math.PI) / 180;
      this.camera.position.set(0, -200 * Math.cos(lean), this.middle + 200 * Math.sin(lean));
      this.placed = true;
    }
    this.names = data.parts;
    this.makePicks();
    this.turnTo(this.way);
    this.fit();
  }

  // One prism for each segment, all in one mesh; `owner` says whose each triangle is.
  meshOf(segments) {
    const { three } = this;
    const count = segments.part.length;
    const places = [];
    const turns = [];
    this.owner = [];
    this.firstPoint = new Int32Array(count + 1);
    const vector = (list, k) => new three.Vector3(list[3 * k], list[3 * k + 1], list[3 * k + 2]);
    for (let k = 0; k < count; k += 1) {
      const flat = segments.flat[k] === 1;
      const sides = flat ? FLAT_SIDES : SIDES;
      const ends = [vector(segments.start_mm, k), vector(segments.end_mm, k)];
      const across = vector(segments.across, k).normalize();
      const through = new three.Vector3().subVectors(ends[1], ends[0]).cross(across);
      if (through.lengthSq() > 0) through.normalize();
      else through.set(0, 1, 0);
      const first = places.length / 3;
      this.firstPoint[k] = first;
      for (const end of [0, 1]) {
        const half = [segments.width_mm[2 * k + end] / 2, segments.thickness_mm[2 * k + end] / 2];
        for (let side = 0; side < sides; side += 1) {
          const angle = (2 * Math.PI * (side + (flat ? 0.5 : 0))) / sides;
          const stretch = flat ? Math.SQRT2 : 1;
          const point = ends[end].clone()
            .addScaledVector(across, half[0] * stretch * Math.cos(angle))
            .addScaledVector(through, half[1] * stretch * Math.sin(angle));
          places.push(point.x, point.y, point.z);
        }
      }
      for (let side = 0; side < sides; side += 1) {
        const next = (side + 1) % sides;
        turns.push(first + side, first + next, first + sides + side);
        turns.push(first + next, first + sides + next, first + sides + side);
        this.owner.push(k, k);
      }
      for (const base of [first, first + sides]) {
        for (let side = 1; side < sides - 1; side += 1) {
          turns.push(base, base + side, base + side + 1);
          this.owner.push(k);
        }
      }
    }
    this.firstPoint[count] = places.length / 3;
    const geometry = new three.BufferGeometry();
    geometry.setAttribute("position", new three.Float32BufferAttribute(places, 3));
    geometry.setAttribute("color", new three.Float32BufferAttribute(new Float32Array(places.length), 3));
    geometry.setIndex(turns);
    return new three.Mesh(
      geometry,
      new three.MeshBasicMaterial({ vertexColors: true, side: three.DoubleSide }),
    );
  }

  // A pale line round the far end of each segment keeps parts of one shade apart.
  edges() {
    const { three } = this;
    const { segments } = this.data;
    const places = this.mesh.geometry.getAttribute("position");
    const points = [];
    segments.part.forEach((_, k) => {
      const [first, next] = [this.firstPoint[k], this.firstPoint[k + 1]];
      const sides = (next - first) / 2;
      for (let side = 0; side < sides; side += 1) {
        for (const at of [side, (side + 1) % sides]) {
          const p = first + sides + at;
          points.push(places.getX(p), places.getY(p), places.getZ(p));
        }
      }
    });
    const geometry = new three.BufferGeometry();
    geometry.setAttribute("position", new three.Float32BufferAttribute(points, 3));
    const stuff = new three.LineBasicMaterial({ color: this.plain("--sand"), transparent: true, opacity: 0.55 });
    return new three.LineSegments(geometry, stuff);
  }

  ring(diameter, height) {
    const { three } = this;
    const points = [];
    for (let k = 0; k < 64; k += 1) {
      for (const at of [k, k + 1]) {
        const angle = (2 * Math.PI * at) / 64;
        points.push((diameter / 2) * Math.cos(angle), (diameter / 2) * Math.sin(angle), height);
      }
    }
    const geometry = new three.BufferGeometry();
    geometry.setAttribute("position", new three.Float32BufferAttribute(points, 3));
    return new three.LineSegments(geometry, new three.LineBasicMaterial({ color: this.plain("--pencil") }));
  }

  plain(name) {
    const { three } = this;
    const hex = getComputedStyle(document.documentElement).getPropertyValue(name).trim();
    const parts = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
    return new three.Color().fromArray(parts);
  }

  flask(data) {
    const { three } = this;
    const { inside, height, wall } = data.flask_mm;
    const top = data.button_mm.height;
    const made = [top, top - height].flatMap((z) => [this.ring(inside, z), this.ring(inside + 2 * wall, z)]);
    const points = [];
    for (const angle of [0, 1, 2, 3].map((k) => (k * Math.PI) / 2)) {
      const [x, y] = [(inside / 2 + wall) * Math.cos(angle), (inside / 2 + wall) * Math.sin(angle)];
      points.push(x, y, top, x, y, top - height);
    }
    const geometry = new three.BufferGeometry();
    geometry.setAttribute("position", new three.Float32BufferAttribute(points, 3));
    made.push(new three.LineSegments(geometry, new three.LineBasicMaterial({ color: this.plain("--pencil") })));
    return made;
  }

  cup(data) {
    const { three } = this;
    const { diameter, gate, height } = data.button_mm;
    const points = [];
    const turns = [];
    for (let k = 0; k < 32; k += 1) {
      const angle = (2 * Math.PI * k) / 32;
      points.push((diameter / 2) * Math.cos(angle), (diameter / 2) * Math.sin(angle), height);
      points.push((gate / 2) * Math.cos(angle), (gate / 2) * Math.sin(angle), 0);
      const next = (k + 1) % 32;
      turns.push(2 * k, 2 * next, 2 * k + 1, 2 * next, 2 * next + 1, 2 * k + 1);
    }
    const geometry = new three.BufferGeometry();
    geometry.setAttribute("position", new three.Float32BufferAttribute(points, 3));
    geometry.setIndex(turns);
    this.cupStuff = new three.MeshBasicMaterial({ color: this.plain("--c1"), side: three.DoubleSide });
    return new three.Mesh(geometry, this.cupStuff);
  }

  paint(shadeOf) {
    const colours = this.mesh.geometry.getAttribute("color");
    const count = this.data.segments.part.length;
    for (let k = 0; k < count; k += 1) {
      const [r, g, b] = shadeOf(k);
      for (let p = this.firstPoint[k]; p < this.firstPoint[k + 1]; p += 1) colours.setXYZ(p, r, g, b);
    }
    colours.needsUpdate = true;
    this.draw();
  }

  turnTo(way) {
    const held = way === this.way && { focus: this.time.contains(document.activeElement), ran: this.running !== 0 };
    this.run(false);
    this.way = way;
    this.time.replaceChildren();
    this.scale.replaceChildren();
    this.dropCurve();
    this.cupStuff.color = this.plain("--c1");
    if (way === "chance") this.byChance();
    else if (way === "solid") this.bySolid();
    else if (way === "burn") this.byBurn();
    else if (way === "freeze") this.byFreeze();
    else if (way === "cells") this.byCells();
    for (const shape of this.shapes) shape.visible = way !== "cells";
    if (this.cells) this.cells.group.visible = way === "cells";
    // A forecast that comes in moves no hand and stops no run.
    const range = this.time.querySelector("input");
    if (range && held.focus) range.focus({ preventScroll: true });
    if (range && held.ran) this.run(true);
    this.tell();
  }

  byChance() {
    const { segments, classes } = this.data;
    const shades = classes.map((each) => colourOf(each.name));
    const last = classes.length - 1;
    this.paint((k) => {
      const found = classes.findIndex((each) => segments.chance[k] >= each.least);
      return shades[found < 0 ? last : found];
    });
  }

  // Times are spread over the steps by their logarithm: bristles set in tenths, cups in minutes.
  solidSteps() {
    const known = this.data.solid_s.filter((time) => time !== null && time > 0);
    if (!known.length) return null;
    const low = Math.log(Math.min(...known));
    const high = Math.max(Math.log(Math.max(...known)), low + 1e-6);
    const step = (time) => Math.min(HEATS - 1, Math.floor(((Math.log(time) - low) / (high - low)) * HEATS));
    const at = (k) => Math.exp(low + ((high - low) * k) / HEATS);
    return { step, at };
  }

  bySolid() {
    const steps = this.solidSteps();
    const { solid_s } = this.data;
    const none = this.plain("--paper").toArray();
    this.paint((k) => {
      const time = solid_s[k];
      return steps && time ? this.heats[steps.step(time)] : none;
    });
    if (steps) this.scaleOf(this.heats.map((_, k) => [`h${k}`, k % 3 === 0 ? this.pointed(seconds(steps.at(k))) : ""]));
  }

  degrees(celsius) {
    const { of_0, each } = this.data.degrees;
    return of_0 + each * celsius;
  }

  heat(celsius, said = true) {
    return `${Math.round(this.degrees(celsius))}${said ? ` ${this.data.degrees.unit}` : ""}`;
  }

  byBurn() {
    const { burnout } = this.data;
    const last = burnout.time_h.length - 1;
    const share = (heat) => Math.max(0, Math.min(HEATS - 1, Math.floor(((heat - COLDEST) / (HOTTEST - COLDEST)) * HEATS)));
    this.scaleOf(this.heats.map((_, k) => [
      `h${k}`, k % 3 ? "" : this.heat(COLDEST + ((HOTTEST - COLDEST) * k) / HEATS, !k),
    ]));
    this.slider(last, (at) => {
      const core = this.heats[share(burnout.core_C[at])];
      this.cupStuff.color.fromArray(this.heats[share(burnout.wall_C[at])]);
      this.paint(() => core);
      if (this.plot) this.plot.setCursor({ left: this.plot.valToPos(burnout.time_h[at], "x"), top: 0 });
      const water = Math.round(100 * burnout.water[at]);
      return `${this.pointed(burnout.time_h[at].toFixed(1))} h: kiln ${this.heat(burnout.kiln_C[at])}, wall ` +
        `${this.heat(burnout.wall_C[at])}, core ${this.heat(burnout.core_C[at])}; free water left ` +
        `${water} in 100, char left ${this.pointed(small(burnout.char_mg[at]))} mg`;
    });
    this.burnCurve(burnout);
  }

  byFreeze() {
    const { solid_s, part_solid_s, parts, freeze } = this.data;
    const known = solid_s.filter((time) => time);
    const end = Math.max(...known, freeze.button_s || 0, 0.1);
    const first = Math.max(Math.min(...known, end), 0.01) / 2;
    const moments = 120;
    const at = (k) => (k === 0 ? 0 : first * (end / first) ** (k / moments));
    const [set, liquid] = [this.heats[0], this.heats[7]];
    this.scaleOf([["h0", "solid"], ["h7", "liquid"]]);
    this.slider(moments, (place) => {
      const now = at(place);
      this.paint((k) => {
        const time = solid_s[k];
        return time !== null && time <= now * (1 + 1e-9) ? set : liquid;
      });
      this.cupStuff.color.fromArray(freeze.button_s && freeze.button_s <= now ? set : liquid);
      this.draw();
      const done = parts.filter((_, k) => part_solid_s[k] !== null && part_solid_s[k] <= now * (1 + 1e-9));
      return `${this.pointed(seconds(now))} after the pour began: ${done.length ? `solid ${done.join(", ")}` : "nothing is solid"}`;
    });
  }

  // The casting that was frozen in cells; what it needs is fetched when it is first shown.
  async byCells() {
    try {
      if (!this.cells) {
        const [{ CellsView }, answer] = await Promise.all([
          import(this.box.dataset.cellsScript), fetch(this.box.dataset.cells),
        ]);
        if (!answer.ok) throw new Error("no cells");
        this.cells = new CellsView(this, await answer.json());
      }
    } catch {
      this.said.textContent = this.box.dataset.none;
      return;
    }
    if (this.way === "cells") this.cells.show();
  }

  dropCells() {
    if (!this.cells) return;
    this.scene.remove(this.cells.group);
    this.cells.dispose();
    this.cells = null;
  }

  // The hand of the time: moved by mouse, by keys, by two buttons, or by itself where that is welcome.
  slider(last, told) {
    const { box, way } = this;
    const label = words("label", box.dataset.slider);
    const range = document.createElement("input");
    // A share of the way, since a turned knob may bring more moments or fewer.
    const kept = Math.round(last * (this.moments.get(way) || 0));
    Object.assign(range, { type: "range", min: 0, max: last, step: 1, value: kept, id: "moment" });
    label.htmlFor = "moment";
    const out = words("output");
    out.htmlFor = "moment";
    // The field in hand says where it stands; the sentence is read out when a button was pressed.
    const move = (read = false) => {
      const text = told(Number(range.value));
      this.moments.set(way, last ? Number(range.value) / last : 0);
      out.setAttribute("aria-live", read ? "polite" : "off");
      out.textContent = text;
      range.setAttribute("aria-valuetext", text);
    };
    range.addEventListener("input", () => move());
    this.move = move;
    this.step = (by, read) => {
      const before = range.value;
      range.value = String(Number(before) + by);
      if (range.value === before) return false;
      move(read);
      return true;
    };
    this.every = Math.max(RUN_LEAST, RUN_FOR / Math.max(last, 1));
    this.time.append(label, range, out, this.hands(range));
    move();
  }

  hands(range) {
    const { box } = this;
    const acts = words("p", undefined, "acts");
    const add = (text, done) => {
      const button = words("button", text);
      button.type = "button";
      button.addEventListener("click", done);
      acts.append(button);
      return button;
    };
    for (const [by, name] of [[-1, box.dataset.earlier], [1, box.dataset.later]]) {
      add(name, () => {
        this.run(false);
        this.step(by, true);
      });
    }
    const play = add(box.dataset.play, () => {
      const begins = this.running === 0;
      if (begins && range.value === range.max) {
        range.value = "0";
        this.move();
      }
      this.run(begins);
    });
    play.setAttribute("aria-pressed", "false");
    play.classList.add("play");
    play.hidden = calm.matches;
    return acts;
  }

  run(on) {
    clearInterval(this.running);
    this.running = on ? setInterval(() => this.step(1) || this.run(false), this.every) : 0;
    const play = this.time.querySelector(".play");
    if (play) play.setAttribute("aria-pressed", String(on));
  }

  scaleOf(steps) {
    for (const [name, text] of steps) {
      const item = words("li");
      const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
      svg.setAttribute("viewBox", "0 0 40 20");
      svg.setAttribute("preserveAspectRatio", "none");
      svg.setAttribute("aria-hidden", "true");
      const shape = document.createElementNS("http://www.w3.org/2000/svg", "rect");
      for (const [key, value] of Object.entries({ class: name, width: 40, height: 20 })) shape.setAttribute(key, value);
      svg.append(shape);
      item.append(svg, text);
      this.scale.append(item);
    }
  }

  async burnCurve(burnout) {
    if (!window.uPlot) await script(this.box.dataset.uplot);
    if (this.way !== "burn") return;
    const ink = getComputedStyle(document.documentElement).getPropertyValue("--ink").trim();
    const ember = getComputedStyle(document.documentElement).getPropertyValue("--ember").trim();
    const axis = { stroke: ink, font: "14px serif", grid: { stroke: "#D8CDB8" } };
    this.plot = new window.uPlot({
      width: this.box.clientWidth,
      height: 230,
      scales: { x: { time: false } },
      cursor: { y: false, drag: { setScale: false } },
      axes: [{ ...axis, label: "h", labelSize: 22 }, { ...axis, label: this.data.degrees.unit, labelSize: 22, size: 52 }],
      series: [
        { label: "h" },
        { label: "kiln", stroke: ember, width: 1.5, dash: [6, 4] },
        { label: "wall", stroke: ink, width: 1.2 },
        { label: "core", stroke: ink, width: 2.6 },
      ],
    }, [burnout.time_h, ...[burnout.kiln_C, burnout.wall_C, burnout.core_C].map((row) => row.map((each) => this.degrees(each)))], this.curve);
    if (this.move) this.move();
  }

  dropCurve() {
    if (this.plot) this.plot.destroy();
    this.plot = null;
    this.move = null;
    this.curve.replaceChildren();
  }

  // A part is picked in the picture or by its name in the table.
  listenToPicks() {
    let down = null;
    this.canvas.addEventListener("pointerdown", (event) => { down = [event.clientX, event.clientY]; });
    this.canvas.addEventListener("pointerup", (event) => {
      if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 5) return;
      this.pick(this.partAt(event.clientX, event.clientY));
    });
    document.addEventListener("click", (event) => {
      const button = event.target.closest(".parts .pick");
      if (!button) return;
      const part = Number(button.closest("tr").dataset.row);
      this.pick(this.picked === part ? null : part);
    });
  }

  partAt(x, y) {
    const { three } = this;
    const place = this.canvas.getBoundingClientRect();
    const ray = new three.Raycaster();
    ray.setFromCamera(new three.Vector2(
      ((x - place.left) / place.width) * 2 - 1, 1 - ((y - place.top) / place.height) * 2,
    ), this.camera);
    const hit = ray.intersectObject(this.mesh)[0];
    return hit ? this.data.segments.part[this.owner[hit.faceIndex]] : null;
  }

  makePicks() {
    for (const name of document.querySelectorAll(".parts .part-name")) {
      if (name.closest(".pick")) continue;
      const button = words("button", undefined, "pick");
      button.type = "button";
      name.replaceWith(button);
      button.append(name);
    }
    if (this.picked !== null && this.picked >= this.data.parts.length) this.picked = null;
    this.pick(this.picked);
  }

  pick(part) {
    const { three } = this;
    this.picked = part;
    if (this.lines) {
      this.group.remove(this.lines);
      this.lines.geometry.dispose();
      this.lines = null;
    }
    for (const row of document.querySelectorAll(".parts tr[data-row]")) {
      const mine = Number(row.dataset.row) === part;
      row.toggleAttribute("aria-current", mine);
      if (mine) row.setAttribute("aria-current", "true");
      const button = row.querySelector(".pick");
      if (button) button.setAttribute("aria-pressed", String(mine));
    }
    if (part !== null) {
      const { segments } = this.data;
      const points = [];
      segments.part.forEach((each, k) => {
        if (each === part) points.push(...segments.start_mm.slice(3 * k, 3 * k + 3), ...segments.end_mm.slice(3 * k, 3 * k + 3));
      });
      const geometry = new three.BufferGeometry();
      geometry.setAttribute("position", new three.Float32BufferAttribute(points, 3));
      const stuff = new three.LineBasicMaterial({ color: this.plain("--ember"), depthTest: false, linewidth: 2 });
      this.lines = new three.LineSegments(geometry, stuff);
      this.lines.renderOrder = 2;
      this.group.add(this.lines);
    }
    this.tell();
    this.draw();
  }

  tell() {
    const row = this.picked === null ? null : document.querySelector(`.parts tr[data-row="${this.picked}"]`);
    if (!row) {
      this.said.textContent = document.getElementById("scene").dataset.help || "";
      return;
    }
    const every = row.children[5].querySelector("b").textContent;
    const stops = row.children[7].firstChild.textContent;
    const solid = row.children[6].firstChild.textContent;
    this.said.textContent = `${this.data.parts[this.picked]}: every one fills in ${every} of 100; ` +
      `solid after ${solid}${stops === "–" ? "" : `; ${stops}`}.`;
  }

  turnByKey(event) {
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!by) return;
    event.preventDefault();
    const { three } = this;
    const arm = this.camera.position.clone().sub(this.controls.target);
    const flat = Math.hypot(arm.x, arm.y);
    const round = Math.atan2(arm.y, arm.x) + by[0] * 0.15;
    const lean = Math.max(-1.4, Math.min(1.4, Math.atan2(arm.z, flat) + by[1] * 0.12));
    const length = arm.length();
    this.camera.position.copy(this.controls.target).add(new three.Vector3(
      length * Math.cos(lean) * Math.cos(round), length * Math.cos(lean) * Math.sin(round), length * Math.sin(lean),
    ));
    this.controls.update();
    this.draw();
  }

  fit() {
    const wide = this.box.clientWidth;
    if (!wide) return;
    const high = Math.round(wide * HIGH_OVER_WIDE);
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
    this.renderer.setSize(wide, high, false);
    const half = this.reach || 60;
    Object.assign(this.camera, {
      left: -half, right: half, top: half * HIGH_OVER_WIDE, bottom: -half * HIGH_OVER_WIDE,
    });
    this.camera.updateProjectionMatrix();
    this.controls.update();
    this.draw();
  }

  draw() {
    if (this.waiting) return;
    this.waiting = requestAnimationFrame(() => {
      this.waiting = 0;
      this.renderer.render(this.scene, this.camera);
    });
  }
}

function script(path) {
  return new Promise((done, failed) => {
    const made = document.createElement("script");
    made.src = path;
    made.onload = done;
    made.onerror = failed;
    document.head.append(made);
  });
}

// A mass in two figures, without a power of ten.
function small(mass) {
  return mass < 0.01 ? "under 0.01" : String(Number(mass.toPrecision(2)));
}

function seconds(time) {
  if (time === 0) return "0 s";
  return time < 60 ? `${Number(time.toPrecision(2))} s` : `${Number((time / 60).toPrecision(2))} min`;
}
