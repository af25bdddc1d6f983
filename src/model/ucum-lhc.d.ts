// The few calls of @lhncbc/ucum-lhc that we use; the package ships no types of its own.
declare module '@lhncbc/ucum-lhc' {
  interface Unit {
    readonly csCode_: string | null;
    readonly dim_: { readonly dimVec_: readonly number[] | null } | null;
  }
  interface UcumLhcUtils {
    getSpecifiedUnit(
      code: string,
      valConv: 'validate' | 'convert',
    ): {
      readonly unit: Unit | null;
      readonly origString: string;
    };
    convertUnitTo(
      from: string,
      value: number,
      to: string,
    ): { readonly status: string; readonly toVal: number | null; readonly msg: readonly string[] };
  }
  const ucum: { readonly UcumLhcUtils: { getInstance(): UcumLhcUtils } };
  export default ucum;
}
