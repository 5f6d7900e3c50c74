// Programs of the report, unpacked when they are first wanted and kept.
import { type Faces, type LoadedProgram, loadProgram, unpackFaces } from "./moves";
import { readBytes, type Report } from "./report_data";

export class Store {
  private readonly programs = new Map<number, Promise<LoadedProgram>>();
  constructor(private readonly report: Report) {}

  program(index: number): Promise<LoadedProgram> {
    let loading = this.programs.get(index);
    if (!loading) {
      loading = loadProgram(this.report.scene.programs[index], index, this.report.scene.stock.size[2]);
      this.programs.set(index, loading);
      // Height maps and moves of many programs would fill a tablet: the least recently asked for go first.
      if (this.programs.size > 6) this.programs.delete(this.programs.keys().next().value!);
    } else {
      this.programs.delete(index);
      this.programs.set(index, loading);
    }
    return loading;
  }

  // The stock as a program leaves it: as the next one of its setup finds it, or as it was handed on at the setup's end.
  async after(index: number): Promise<Faces> {
    const { programs, stock } = this.report.scene;
    const next = programs[index + 1];
    if (next && next.setup === programs[index].setup) return (await this.program(index + 1)).before;
    const h = programs[index].heights;
    return unpackFaces(
      (await readBytes("after", index))!,
      await readBytes("overhangs-after", index),
      h.nx,
      h.ny,
      h.cell,
      stock.size[2],
    );
  }
}
