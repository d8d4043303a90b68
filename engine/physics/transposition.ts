/*
 * From the level plane and the beam to a tilted panel. `planeOfArray` is the whole way in one call;
 * the parts stand beside it with their sources. Tilt is 0 lying flat and π/2 upright; `facing` is
 * the azimuth the panel looks towards, clockwise from true north.
 */

/**
 * Sine under which a low sun is not divided any further: sin 1°, as two figures. Nearer the horizon
 * the ratio of planes grows without bound while the light it multiplies fades.
 */
const LEAST_SINE = 0.017;

/** Reflection loss of even sky light, the angle modifier at its mean incidence of 59°. */
const DOME_MODIFIER = 0.95;

/** ASHRAE coefficient of a plain glass cover. */
const GLASS_COEFFICIENT = 0.05;

/**
 * Angle between the sun's ray and the upright on a plane.
 *
 *     cos θ = sin h cos β + cos h sin β cos(A − As)
 *
 * @param elevation  of the sun, h, rad
 * @param azimuth    of the sun, A, rad
 * @param tilt       of the plane from horizontal, β, rad, 0 to π
 * @param facing     azimuth the plane looks towards, As, rad
 * @returns          rad, 0 to π; more than π/2 when the sun is behind the plane
 *
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, equation 1.6.3
 * Truth: test/reference/checks.json (angle_of_incidence_deg), largest error 0.2°
 */
export function angleOfIncidence(
  elevation: number,
  azimuth: number,
  tilt: number,
  facing: number,
): number {
  const cosine = cosineOfIncidence(elevation, azimuth, tilt, facing);
  return Math.acos(Math.max(-1, Math.min(1, cosine)));
}

/** Cosine of `angleOfIncidence`, for loops; may leave −1 to 1 by rounding. */
export function cosineOfIncidence(
  elevation: number,
  azimuth: number,
  tilt: number,
  facing: number,
): number {
  return (
    Math.sin(elevation) * Math.cos(tilt) +
    Math.cos(elevation) * Math.sin(tilt) * Math.cos(azimuth - facing)
  );
}

/**
 * Beam on the tilted plane over beam on the level.
 *
 *     Rb = max(0, cos θ) / max(sin h, 0.017)
 *
 * @param incidence  θ, rad
 * @param elevation  of the sun, h, rad
 * @returns          dimensionless, 0 or more
 *
 * Source: Duffie & Beckman, equation 1.8.1; the bound on a low sun is ours
 * Truth: test/reference/checks.json (beam_ratio_Rb), largest error 0.004
 */
export function beamRatio(incidence: number, elevation: number): number {
  return Math.max(0, Math.cos(incidence)) / Math.max(Math.sin(elevation), LEAST_SINE);
}

/**
 * Sky light on a tilted plane when the sky is evenly bright.
 *
 *     D = dhi (1 + cos β) / 2
 *
 * @param dhi   diffuse horizontal irradiance, W/m² (or irradiation, J/m²)
 * @param tilt  β, rad, 0 to π
 * @returns     as `dhi`
 *
 * Source: Liu & Jordan, Solar Energy 7 (1963) 53
 * Truth: test/reference/checks.json (sky_diffuse_isotropic_Wm2), largest relative error 7e-7
 */
export function isotropicSky(dhi: number, tilt: number): number {
  return (dhi * (1 + Math.cos(tilt))) / 2;
}

/**
 * Sky light on a tilted plane with a bright ring round the sun.
 *
 *     D = dhi (a Rb + (1 − a) (1 + cos β) / 2),   a = dni / E0
 *
 * @param dhi                     diffuse horizontal irradiance, W/m²
 * @param dni                     direct normal irradiance, W/m²
 * @param extraterrestrialNormal  E0, W/m², more than 0
 * @param incidence               θ, rad
 * @param elevation               of the sun, rad
 * @param tilt                    β, rad, 0 to π
 * @returns                       W/m²
 *
 * Source: Hay & Davies, Proc. First Canadian Solar Radiation Data Workshop, 1980
 * Truth: test/reference/checks.json (sky_diffuse_hay_davies_Wm2), largest relative error 3e-6
 */
export function hayDaviesSky(
  dhi: number,
  dni: number,
  extraterrestrialNormal: number,
  incidence: number,
  elevation: number,
  tilt: number,
): number {
  const ring = dni / extraterrestrialNormal;
  return dhi * ring * beamRatio(incidence, elevation) + isotropicSky(dhi * (1 - ring), tilt);
}

/**
 * Irradiation of a tilted plane with a ring round the sun and a brighter horizon (HDKR): beam, sky
 * and ground together.
 *
 *     I_T = (Ib + Id a) Rb + Id (1 − a) (1 + cos β)/2 (1 + √(Ib/I) sin³(β/2)) + I ρ (1 − cos β)/2
 *     a = Ib / I0
 *
 * @param beam              on the level, Ib, J/m² or W/m²
 * @param diffuse           on the level, Id, as `beam`
 * @param extraterrestrial  on the level, I0, as `beam`, more than 0
 * @param ratio             Rb, dimensionless
 * @param tilt              β, rad, 0 to π
 * @param albedo            ρ, dimensionless, 0 to 1
 * @returns                 as `beam`
 *
 * Source: Reindl, Beckman & Duffie, Solar Energy 45 (1990) 9; Duffie & Beckman, equation 2.16.7
 * Truth: test/reference/checks.json (tilted_hdkr_MJm2), largest error 0.003 MJ/m²
 */
export function tiltedHdkr(
  beam: number,
  diffuse: number,
  extraterrestrial: number,
  ratio: number,
  tilt: number,
  albedo: number,
): number {
  const global = beam + diffuse;
  const ring = beam / extraterrestrial;
  const brighter = global > 0 ? Math.sqrt(beam / global) * Math.sin(tilt / 2) ** 3 : 0;
  return (
    (beam + diffuse * ring) * ratio +
    isotropicSky(diffuse * (1 - ring), tilt) * (1 + brighter) +
    groundReflected(global, albedo, tilt)
  );
}

/**
 * Irradiation of a tilted plane under an evenly bright sky: beam, sky and ground together.
 *
 *     I_T = Ib Rb + Id (1 + cos β)/2 + I ρ (1 − cos β)/2
 *
 * @param beam     on the level, Ib, J/m² or W/m²
 * @param diffuse  on the level, Id, as `beam`
 * @param ratio    Rb, dimensionless
 * @param tilt     β, rad, 0 to π
 * @param albedo   ρ, dimensionless, 0 to 1
 * @returns        as `beam`
 *
 * Source: Liu & Jordan, Solar Energy 7 (1963) 53; Duffie & Beckman, equation 2.15.1
 * Truth: test/reference/checks.json (tilted_isotropic_MJm2), largest error 0.0003 MJ/m²
 */
export function tiltedIsotropic(
  beam: number,
  diffuse: number,
  ratio: number,
  tilt: number,
  albedo: number,
): number {
  return beam * ratio + isotropicSky(diffuse, tilt) + groundReflected(beam + diffuse, albedo, tilt);
}

/** Sky clearness from which a row of the table holds, then f11 f12 f13 f21 f22 f23. */
const PEREZ: readonly (readonly [number, number, number, number, number, number, number])[] = [
  [6.2, 0.678, -0.327, -0.25, 0.156, -1.377, 0.251],
  [4.5, 1.06, -1.6, -0.359, 0.264, -1.127, 0.131],
  [2.8, 1.132, -1.237, -0.412, 0.288, -0.823, 0.056],
  [1.95, 0.873, -0.392, -0.362, 0.226, -0.462, 0.001],
  [1.5, 0.568, 0.187, -0.295, 0.109, -0.152, -0.014],
  [1.23, 0.33, 0.487, -0.221, 0.055, -0.064, -0.026],
  [1.065, 0.13, 0.683, -0.151, -0.019, 0.066, -0.029],
  [Number.NEGATIVE_INFINITY, -0.008, 0.588, -0.062, -0.06, 0.072, -0.022],
];

/**
 * Sky light on a tilted plane with a ring round the sun and a band along the horizon.
 *
 *     D = dhi ((1 − F1) (1 + cos β)/2 + F1 a/c + F2 sin β)
 *     a = max(0, cos θ)   c = max(cos 85°, sin h)
 *     F1 = max(0, f11 + f12 Δ + f13 Z)   F2 = f21 + f22 Δ + f23 Z   Δ = dhi m / E0
 *
 * with f from a table by ε = ((dhi + dni)/dhi + 1.041 Z³) / (1 + 1.041 Z³).
 *
 * @param dhi                     diffuse horizontal irradiance, W/m²
 * @param dni                     direct normal irradiance, W/m²
 * @param extraterrestrialNormal  E0, W/m², more than 0
 * @param incidence               θ, rad
 * @param elevation               of the sun h = π/2 − Z, rad
 * @param mass                    air mass m, dimensionless
 * @param tilt                    β, rad, 0 to π
 * @returns                       W/m²
 *
 * Source: Perez, Ineichen, Seals, Michalsky & Stewart, Solar Energy 44 (1990) 271-289, table 6
 * (from memory)
 * Truth: test/reference/checks.json (sky_diffuse_perez_Wm2), largest relative error 4e-6
 */
export function perezSky(
  dhi: number,
  dni: number,
  extraterrestrialNormal: number,
  incidence: number,
  elevation: number,
  mass: number,
  tilt: number,
): number {
  if (dhi <= 0) return 0;
  const zenith = Math.PI / 2 - elevation;
  const bend = 1.041 * zenith ** 3;
  const clearness = ((dhi + dni) / dhi + bend) / (1 + bend);
  const row = PEREZ.find(([from]) => clearness >= from);
  if (row === undefined) return Number.NaN;
  const [, f11, f12, f13, f21, f22, f23] = row;
  const brightness = (dhi * mass) / extraterrestrialNormal;
  const ring = Math.max(0, f11 + f12 * brightness + f13 * zenith);
  const band = f21 + f22 * brightness + f23 * zenith;
  const ahead = Math.max(0, Math.cos(incidence));
  const height = Math.max(Math.cos((85 * Math.PI) / 180), Math.sin(elevation));
  return (
    isotropicSky(dhi * (1 - ring), tilt) + dhi * ((ring * ahead) / height + band * Math.sin(tilt))
  );
}

/**
 * Irradiance that the ground reflects onto a tilted plane.
 *
 *     E_r = E ρ (1 − cos β) / 2
 *
 * @param ghi     global horizontal irradiance E, W/m², 0 or more
 * @param albedo  ground reflectance ρ, dimensionless, 0 to 1
 * @param tilt    angle of the plane from horizontal β, rad, 0 to π
 * @returns       W/m²
 *
 * Holds for level, uniform, diffusely reflecting ground in full view and in the open.
 * Source: Liu & Jordan, Solar Energy 7 (1963) 53; Duffie & Beckman, equation 2.15.1
 * Truth: test/reference/checks.json (ground_reflected_Wm2), largest relative error 2e-6
 */
export function groundReflected(ghi: number, albedo: number, tilt: number): number {
  return (ghi * albedo * (1 - Math.cos(tilt))) / 2;
}

/**
 * Loss by reflection at slant incidence, relative to square incidence.
 *
 *     K = 1 − b0 (1 / cos θ − 1)
 *
 * @param cosine       cos θ, dimensionless
 * @param coefficient  b0, dimensionless; 0.05 for plain glass
 * @returns            dimensionless, 0 to 1; 0 behind the plane
 *
 * Source: Souka & Safwat, Solar Energy 10 (1966) 170; ASHRAE Standard 93
 * Truth: test/reference/checks.json (iam_ashrae), largest error 2e-7
 */
export function ashraeModifier(cosine: number, coefficient: number = GLASS_COEFFICIENT): number {
  return Math.max(0, 1 - coefficient * (1 / Math.max(cosine, 0.01) - 1));
}

/**
 * Loss by reflection at slant incidence, exponential form.
 *
 *     K = (1 − exp(−cos θ / ar)) / (1 − exp(−1 / ar))
 *
 * @param incidence    θ, rad; 0 from π/2
 * @param coefficient  ar, dimensionless; 0.16 for a clean glass cover
 * @returns            dimensionless, 0 to 1
 *
 * Source: Martin & Ruiz, Solar Energy Materials & Solar Cells 70 (2001) 25; IEC 61853-2
 * Truth: test/reference/checks.json (iam_martin_ruiz), largest error 3e-7
 */
export function martinRuizModifier(incidence: number, coefficient: number): number {
  const cosine = Math.max(0, Math.cos(incidence));
  return (1 - Math.exp(-cosine / coefficient)) / (1 - Math.exp(-1 / coefficient));
}

/**
 * Transmission of a glass cover at slant incidence over that at square incidence.
 *
 *     τ(θ) = exp(−K L / cos θr) (1 − ½ (sin²(θr − θ)/sin²(θr + θ) + tan²(θr − θ)/tan²(θr + θ)))
 *     sin θr = sin θ / n
 *
 * @param incidence   θ, rad; 0 from π/2
 * @param index       refractive index n, more than 1; 1.526 for glass
 * @param extinction  K L, dimensionless; 0.008 for 2 mm of glass at 4 a metre
 * @returns           dimensionless, 0 to 1
 *
 * Source: De Soto, Klein & Beckman, Solar Energy 80 (2006) 78-88, equations 14 to 16
 * Truth: test/reference/checks.json (iam_physical), largest error 9e-8
 */
export function glassModifier(incidence: number, index: number, extinction: number): number {
  if (incidence >= Math.PI / 2) return 0;
  const straight = Math.exp(-extinction) * (1 - ((index - 1) / (index + 1)) ** 2);
  // At square incidence both fractions below are 0/0.
  if (Math.abs(incidence) < 1e-6) return 1;
  const refracted = Math.asin(Math.sin(incidence) / index);
  const across = (Math.sin(refracted - incidence) / Math.sin(refracted + incidence)) ** 2;
  const along = (Math.tan(refracted - incidence) / Math.tan(refracted + incidence)) ** 2;
  const slant = Math.exp(-extinction / Math.cos(refracted)) * (1 - (across + along) / 2);
  return slant / straight;
}

/**
 * Light on a tilted plane behind a sky window: beam, ring round the sun, rest of the sky, ground.
 *
 *     beam    dni ahead K(ahead) · beamShare
 *     ring    dhi a ahead / max(sin h, 0.017) · beamShare
 *     dome    dhi (1 − a) skyShare · 0.95
 *     ground  ghi ρ (1 − cos β) / 2
 *     ahead = max(0, cos θ),  a = dni / E0,  K = max(0, 1 − 0.05 (1/ahead − 1))
 *
 * @param ghi                     global horizontal irradiance, W/m²
 * @param dni                     direct normal irradiance, W/m²
 * @param dhi                     diffuse horizontal irradiance, W/m²
 * @param extraterrestrialNormal  E0, W/m², more than 0
 * @param elevation               of the sun h, rad
 * @param azimuth                 of the sun, rad
 * @param tilt                    β, rad, 0 to π
 * @param facing                  azimuth the plane looks towards, rad
 * @param albedo                  ρ, dimensionless, 0 to 1
 * @param beamShare               share of the beam that passes the window, 0 to 1; it hides the
 *                                ring with the sun
 * @param skyShare                view of the open sky from the plane, 0 to 1; (1 + cos β)/2 in the
 *                                open
 * @returns                       W/m²
 *
 * The ground is taken to lie in the open: with a tilt of 35° under trees that is less than 3 % too
 * much. The ring carries no angle modifier.
 * Source: Hay & Davies 1980 with the ASHRAE angle modifier, as above
 * Truth: test/engine/physics/day-chain.test.ts, largest error of a day's sum 0.3 % without the
 * dome modifier; test/engine/physics/transposition.test.ts for the parts
 */
export function planeOfArray(
  ghi: number,
  dni: number,
  dhi: number,
  extraterrestrialNormal: number,
  elevation: number,
  azimuth: number,
  tilt: number,
  facing: number,
  albedo: number,
  beamShare: number,
  skyShare: number,
): number {
  const ahead = aheadOf(elevation, azimuth, tilt, facing);
  return planeOfArrayThrough(
    ghi,
    dni,
    dhi,
    extraterrestrialNormal,
    beamGain(ahead, beamShare),
    ringGain(ahead, elevation, beamShare),
    domeGain(skyShare),
    albedo,
    groundView(tilt),
  );
}

/** Cosine of the angle between the ray and the upright on the plane, 0 behind it. */
export function aheadOf(elevation: number, azimuth: number, tilt: number, facing: number): number {
  return Math.max(0, cosineOfIncidence(elevation, azimuth, tilt, facing));
}

/** Share of the beam that a plane takes: cosine, angle modifier, what the window lets through. */
export function beamGain(ahead: number, beamShare: number): number {
  return ahead * ashraeModifier(ahead) * beamShare;
}

/** Share of the bright ring round the sun that a plane takes; it hides with the sun. */
export function ringGain(ahead: number, elevation: number, beamShare: number): number {
  return (ahead / Math.max(Math.sin(elevation), LEAST_SINE)) * beamShare;
}

/** Share of the rest of the sky that a plane takes. */
export function domeGain(skyShare: number): number {
  return skyShare * DOME_MODIFIER;
}

/** 1 − cos β: twice the view of the ground from a plane. */
export function groundView(tilt: number): number {
  return 1 - Math.cos(tilt);
}

/** `planeOfArray` with everything that does not depend on the light worked out before. */
export function planeOfArrayThrough(
  ghi: number,
  dni: number,
  dhi: number,
  extraterrestrialNormal: number,
  beam: number,
  ring: number,
  dome: number,
  albedo: number,
  ground: number,
): number {
  const share = dni / extraterrestrialNormal;
  return dni * beam + dhi * share * ring + dhi * (1 - share) * dome + (ghi * albedo * ground) / 2;
}
