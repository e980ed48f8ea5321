"""The practice photo: corners where truth says, tones and noise as asked for."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.special import erf

from calibration.frames import Array, Gray, SheetInches
from calibration.practice.photo import Exposure
from calibration.practice.scene import CameraKind
from calibration.practice.shading import GAMMA, Box, shadow_in
from calibration.practice.surface import TableTop, meet_surface, on_surface
from calibration.practice.table import Faults, PracticeTable

PPI = 150.0
SQUARE_IN = 1.4
PAGE_SHAPE = (1650, 1275)
CLEAN = {"shot_noise": 0.0, "read_noise": 0.0, "weave": 0.0, "jpeg_quality": None}
WHITE = np.full((1080, 1920), 255, dtype=np.uint8)


def _checks(shape: tuple[int, int], side_px: int) -> Gray:
    v, u = np.mgrid[: shape[0], : shape[1]]
    return np.where((u // side_px + v // side_px) % 2 == 0, 0, 255).astype(np.uint8)


def _printed() -> tuple[Gray, SheetInches]:
    """A page of plain squares from its top left, and where their corners are on it, in inches."""
    side_px = round(SQUARE_IN * PPI)
    page = _checks(PAGE_SHAPE, side_px)
    down, across = np.mgrid[1:7, 1:6] * side_px - 0.5
    x = (across - (PAGE_SHAPE[1] - 1) / 2) / PPI
    y = ((PAGE_SHAPE[0] - 1) / 2 - down) / PPI
    return page, SheetInches(np.column_stack([x.ravel(), y.ravel()]))


def _found(photo: Gray, guess: Array, towards: Array, half_px: int) -> Array:
    """Where two blurred edges cross near `guess`; `towards` (2, 2) are pixels along the one and the other."""
    u0, v0 = np.rint(guess).astype(int)
    v, u = np.mgrid[v0 - half_px : v0 + half_px + 1, u0 - half_px : u0 + half_px + 1]
    light = (photo[v, u] / 255.0) ** GAMMA
    across = np.arctan2(towards[:, 0], -towards[:, 1])
    sign = np.sign(_side(light, u - u0, v - v0, across))
    size = np.ptp(light) / 2

    def unlike(p: Array) -> Array:
        du, dv = u - p[0], v - p[1]
        edges = [erf((du * np.cos(p[i]) + dv * np.sin(p[i])) / p[i + 2]) for i in (2, 3)]
        lit = p[6] + p[7] * edges[0] * edges[1]
        return np.ravel(lit * (1 + p[8] * du + p[9] * dv) - light)

    start = np.array([*(guess + 0.2), *across, 1.2, 1.2, light.mean(), sign * size, 0.0, 0.0])
    return np.asarray(least_squares(unlike, start, method="lm").x[:2])


def _side(light: Array, du: Array, dv: Array, across: Array) -> float:
    sides = [np.sign(du * np.cos(angle) + dv * np.sin(angle)) for angle in across]
    return float((sides[0] * sides[1] * (light - light.mean())).sum())


def _scene(seed: int, camera: CameraKind, faults: Faults) -> PracticeTable:
    table = PracticeTable.random(seed, camera=camera, sheets=3, faults=faults)
    return replace(table, exposure=replace(table.exposure, **CLEAN))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("seed", "camera", "half_px"), [(1, "phone", 11), (2, "webcam", 5), (3, "webcam", 5)]
)
def test_printed_corners_are_seen_where_truth_says(seed: int, camera: CameraKind, half_px: int) -> None:
    table = _scene(seed, camera, Faults.usual())
    page, corners = _printed()
    photo = table.photo(WHITE, [page] * 3, PPI)
    errors = []
    for number in (1, 2, 3):
        true = table.camera_from_sheet(number, corners)
        steps = [SheetInches(corners + step) for step in ([0.1, 0], [0, 0.1])]
        along = [table.camera_from_sheet(number, step) - true for step in steps]
        for at, right, up in zip(true, *along, strict=True):
            errors.append(_found(photo, at, np.stack([right, up]), half_px) - at)
    assert np.abs(np.mean(errors, axis=0)).max() < 0.002
    assert np.sqrt(np.mean(np.square(errors))) < 0.005
    assert np.abs(errors).max() < 0.03


@pytest.mark.parametrize(
    ("seed", "camera", "half_px"), [(1, "phone", 11), (2, "webcam", 5), (3, "webcam", 5)]
)
def test_projected_corners_are_seen_where_truth_says(seed: int, camera: CameraKind, half_px: int) -> None:
    table = replace(_scene(seed, camera, Faults.usual()), sheets=())
    photo = table.photo(_checks((1080, 1920), 80), [], PPI)
    down, across = np.mgrid[1:13:2, 1:24] * 80 - 0.5
    screen = np.column_stack([across.ravel(), down.ravel()])
    room = table.frame_in_room.outward(table.true_table_from_screen(screen))
    screen = screen[(np.abs(room) < [29, 17]).all(axis=1)]
    true = table.camera_from_screen(screen)
    along = [table.camera_from_screen(screen + step) - true for step in ([4, 0], [0, 4])]
    errors = [
        _found(photo, at, np.stack([right, down_px]), half_px) - at
        for at, right, down_px in zip(true, *along, strict=True)
    ]
    assert len(errors) > 60
    assert np.abs(np.mean(errors, axis=0)).max() < 0.004
    assert np.sqrt(np.mean(np.square(errors))) < 0.012
    assert np.abs(errors).max() < 0.06


def test_light_on_a_lifted_sheet_is_seen_where_its_ray_meets_the_paper() -> None:
    table = _scene(4, "webcam", Faults.none())
    lifted = replace(table.sheets[0], middle_lift_in=0.5, edge_lift_in=0.5)
    table = replace(table, sheets=(lifted,), exposure=replace(table.exposure, ambient=0.0))
    centre = np.rint(table.true_screen_from_table(np.array([[1.0, 2.0]])))
    u, v = centre[0].astype(int)
    frame = np.zeros((1080, 1920), dtype=np.uint8)
    frame[v - 8 : v + 9, u - 8 : u + 9] = 255
    photo = table.photo(frame, [np.full(PAGE_SHAPE, 255, dtype=np.uint8)], PPI)
    height = lifted.height(table.top)
    met = meet_surface(table.projector.at_in, table.projector.rays_from_pixels(centre), height)
    wanted = table.camera.pixels_from_room(on_surface(met, height))[0]

    found = np.argwhere(photo > 100).mean(axis=0)[::-1]

    assert found == pytest.approx(wanted, abs=0.15)
    assert np.linalg.norm(found - table.camera_from_screen(centre)[0]) > 3


def test_fields_spread_from_nodes_keep_their_place() -> None:
    box = Box(top=16, bottom=112, left=8, right=168)
    u, v = box.nodes().T
    planes = box.spread(3 * u - v, 1e-4 * u * u - 2e-4 * v * v)
    down, across = np.mgrid[box.cut]

    assert planes[0] == pytest.approx(3 * across - down, abs=1e-3)
    curved = planes[1] - (1e-4 * across**2 - 2e-4 * down**2)
    assert np.abs(curved.mean()) < 1e-4
    assert np.abs(curved).max() < 2e-3


def test_paper_ink_and_cloth_have_their_tones() -> None:
    look = Exposure(
        ambient=0.2,
        falloff=0.0,
        vignette=0.0,
        exposure=0.8,
        shot_noise=0.0,
        read_noise=0.0,
        weave=0.0,
        jpeg_quality=None,
    )
    table = replace(PracticeTable.random(1, camera="webcam", sheets=1), exposure=look)
    page = np.full(PAGE_SHAPE, 255, dtype=np.uint8)
    page[:825] = 0
    photo = table.photo(WHITE, [page], PPI)
    ink, paper = table.camera_from_sheet(1, SheetInches(np.array([[0.0, 3.0], [0.0, -3.0]])))
    cloth = table.camera_from_table(np.array([[9.0, 9.0]]))[0]
    tones = [(photo[round(float(v)), round(float(u))] / 255) ** GAMMA for u, v in (ink, paper, cloth)]

    # lit by projector and room together, 1.2 of which paper of 0.9 sends 0.8 to the sensor for 1
    assert tones == pytest.approx([1.2 * 0.8 * tone / 0.9 for tone in (0.05, 0.9, 0.8)], rel=0.02)


def test_noise_is_of_the_size_asked_for_and_follows_the_seed() -> None:
    look = Exposure(weave=0.0, shot_noise=0.02, read_noise=0.0, jpeg_quality=None, seed=1)
    table = replace(PracticeTable.random(1, camera="webcam", sheets=1), exposure=look).without_sheet(1)
    photo = table.photo(WHITE, [], PPI)
    quiet = replace(table, exposure=replace(look, shot_noise=0.0)).photo(WHITE, [], PPI)
    middle = np.rint(table.camera_from_table(np.array([[0.0, 0.0]]))[0]).astype(int)
    part = (slice(middle[1] - 60, middle[1] + 60), slice(middle[0] - 60, middle[0] + 60))
    light, still = (photo[part] / 255.0) ** GAMMA, (quiet[part] / 255.0) ** GAMMA

    assert (light - still).std() == pytest.approx(0.02 * np.sqrt(still.mean()), rel=0.05)
    assert np.array_equal(photo, table.photo(WHITE, [], PPI))
    other = replace(table, exposure=replace(look, seed=2)).photo(WHITE, [], PPI)
    assert not np.array_equal(photo, other)


def test_a_photo_of_the_phone_has_its_size() -> None:
    table = PracticeTable.random(1, sheets=1)

    assert table.photo(WHITE, [np.full(PAGE_SHAPE, 255, dtype=np.uint8)], PPI).shape == (3000, 4000)


def test_jpeg_changes_little() -> None:
    table = PracticeTable.random(1, camera="webcam", sheets=1).without_sheet(1)
    raw = replace(table, exposure=replace(table.exposure, jpeg_quality=None)).photo(WHITE, [], PPI)
    packed = replace(table, exposure=replace(table.exposure, jpeg_quality=90)).photo(WHITE, [], PPI)

    difference = np.abs(raw.astype(float) - packed)
    assert 0 < difference.mean() < 3


def test_a_frame_of_another_size_is_refused() -> None:
    with pytest.raises(ValueError, match=r"the frame is \(720, 1280\), the projector \(1080, 1920\)"):
        PracticeTable.random(1).photo(np.zeros((720, 1280), dtype=np.uint8), [], PPI)


def test_the_table_shades_the_floor_as_geometry_says() -> None:
    table = PracticeTable.random(1)
    lens = replace(table.projector, at_in=(0.0, 0.0, 60.0))
    places = np.array([[0.0, 0.0, -30.0], [45.0, 0.0, -30.0], [0.0, 30.0, -30.0]])

    # from 60 in above, the edge at 30 in throws its shadow to 45 in on a floor 30 in below
    assert shadow_in(lens, TableTop(), places) == pytest.approx([18.0, 0.0, -2.0])
