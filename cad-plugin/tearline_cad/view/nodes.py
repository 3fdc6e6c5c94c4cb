"""Coin nodes of meshes, lines and words.

What says how something looks is the same node wherever it looks so: to make one takes Python longer than to
draw it. Numbers are taken as lists: told(), told_faces() and together() make them of arrays, beside the window if need be.
"""
import collections
import functools

import numpy
from pivy import coin
from PySide import QtCore, QtGui

from tearline_cad.window.shim import plain


class Told(list):
    """Numbers as the 3D view takes them."""


# Lines as it takes them: all their points, and how many each has.
Paths = collections.namedtuple("Paths", "points lengths")


def told(points):
    return points if isinstance(points, Told) else Told(numpy.asarray(points, dtype=float).tolist())


def told_faces(corners):
    """Triangles, or pairs of vertices, one after the other with their ends."""
    if isinstance(corners, Told):
        return corners
    corners = numpy.asarray(corners)
    ended = numpy.full((len(corners), corners.shape[1] + 1), -1)
    ended[:, :-1] = corners
    return Told(ended.ravel().tolist())


def together(paths):
    """Lists of points as Paths; those of a point alone are no lines."""
    if isinstance(paths, Paths):
        return paths
    paths = [path for path in paths if len(path) > 1]
    points = numpy.concatenate([numpy.asarray(path, dtype=float) for path in paths]) if paths else []
    return Paths(told(points), [len(path) for path in paths])


def _coordinates(points):
    node = coin.SoCoordinate3()
    node.point.setValues(0, len(points), told(points))
    return node


def _material(colours, clear=0.0):
    node = coin.SoMaterial()
    node.diffuseColor.setValues(0, len(colours), [list(colour) for colour in colours])
    node.transparency = clear
    return node


@functools.lru_cache(maxsize=None)
def _one_colour(colour, clear=0.0):
    return _material([colour], clear)


@functools.lru_cache(maxsize=None)
def _binding(value):
    node = coin.SoMaterialBinding()
    node.value = value
    return node


@functools.lru_cache(maxsize=None)
def _light(lit):
    node = coin.SoLightModel()
    node.model = coin.SoLightModel.PHONG if lit else coin.SoLightModel.BASE_COLOR
    return node


@functools.lru_cache(maxsize=None)
def _line_style(width, pattern=0xFFFF):
    style = coin.SoDrawStyle()
    style.lineWidth = width
    style.linePattern = pattern
    return style


@functools.lru_cache(maxsize=None)
def _look_of_lines(colour, width, pattern=0xFFFF):
    """All that lines look like, as one node."""
    look = coin.SoGroup()
    for node in (_not_picked(), _light(False), _one_colour(colour), _binding(coin.SoMaterialBinding.OVERALL),
                 _line_style(width, pattern)):
        look.addChild(node)
    return look


@functools.lru_cache(maxsize=None)
def _point_style(size):
    style = coin.SoDrawStyle()
    style.pointSize = size
    return style


@functools.lru_cache(maxsize=None)
def _not_picked():
    style = coin.SoPickStyle()
    style.style = coin.SoPickStyle.UNPICKABLE
    return style


@functools.lru_cache(maxsize=None)
def _faces_outward():
    hints = coin.SoShapeHints()
    hints.vertexOrdering = coin.SoShapeHints.COUNTERCLOCKWISE
    hints.shapeType = coin.SoShapeHints.UNKNOWN_SHAPE_TYPE
    return hints


@functools.lru_cache(maxsize=None)
def _sunk():
    """What is filled lies behind lines in it, however slanted it is seen."""
    offset = coin.SoPolygonOffset()
    offset.factor, offset.units = 1.0, 1.0
    return offset


@functools.lru_cache(maxsize=None)
def through_all():
    """What follows is seen whatever lies before it."""
    depth = coin.SoDepthBuffer()
    depth.test = False
    return depth


def unpickable():
    """A separator whose content does not stand between the mouse and the hull."""
    separator = coin.SoSeparator()
    separator.addChild(_not_picked())
    return separator


def surface(points, triangles, colours, step=None, lit=True, pickable=False, clear=0.0, sunk=False):
    """Triangles in one colour, or each in the colour that `step` names; `sunk`: behind lines that lie in them."""
    separator = coin.SoSeparator() if pickable else unpickable()
    if sunk:
        separator.addChild(_sunk())
    faces, corners = coin.SoIndexedFaceSet(), told_faces(triangles)
    faces.coordIndex.setValues(0, len(corners), corners)
    if step is None:
        binding = _binding(coin.SoMaterialBinding.OVERALL)
    else:
        binding = _binding(coin.SoMaterialBinding.PER_FACE_INDEXED)
        faces.materialIndex.setValues(0, len(step), numpy.asarray(step).tolist())
    material = _one_colour(tuple(colours[0]), clear) if len(colours) == 1 else _material(colours, clear)
    for node in (_faces_outward(), _light(lit), material, binding, _coordinates(points), faces):
        separator.addChild(node)
    return separator


def lines(paths, colour, width=1.5, pattern=0xFFFF):
    """Lines through lists of points; `pattern`: 16 bits, which of them are drawn."""
    separator, paths = coin.SoSeparator(), together(paths)
    drawn = coin.SoLineSet()
    drawn.numVertices.setValues(0, len(paths.lengths), paths.lengths)
    for node in (_look_of_lines(tuple(colour), width, pattern), _coordinates(paths.points), drawn):
        separator.addChild(node)
    return separator


def edges(points, pairs, colour, width=1.5):
    """Lines between pairs of vertices."""
    separator, index = coin.SoSeparator(), told_faces(pairs)
    drawn = coin.SoIndexedLineSet()
    drawn.coordIndex.setValues(0, len(index), index)
    for node in (_look_of_lines(tuple(colour), width), _coordinates(points), drawn):
        separator.addChild(node)
    return separator


def dots(points, colours, size=9):
    """Round marks of a size on the screen [pixels], one colour each."""
    separator = unpickable()
    drawn = coin.SoPointSet()
    drawn.numPoints = len(points)
    for node in (_light(False), _material(colours), _binding(coin.SoMaterialBinding.PER_VERTEX),
                 _point_style(size), _coordinates(points), drawn):
        separator.addChild(node)
    return separator


def shaded(points, triangles, colours, step):
    """Triangles shaded evenly between the colours that `step` names for their vertices."""
    separator = unpickable()
    faces = coin.SoIndexedFaceSet()
    corners = numpy.full((len(triangles), 4), -1)
    corners[:, :3] = triangles
    named = numpy.full((len(triangles), 4), -1)
    named[:, :3] = numpy.asarray(step)[triangles]
    faces.coordIndex.setValues(0, corners.size, corners.ravel().tolist())
    faces.materialIndex.setValues(0, named.size, named.ravel().tolist())
    for node in (_light(False), _material(colours),
                 _binding(coin.SoMaterialBinding.PER_VERTEX_INDEXED), _coordinates(points), faces):
        separator.addChild(node)
    return separator


def _painted(text, size):
    """Dark words on a white card with round corners."""
    font = QtGui.QFont("DejaVu Sans")
    font.setPixelSize(size)
    font.setBold(True)
    box = QtGui.QFontMetrics(font).boundingRect(text)
    width, height = max(box.width() + 10, size + 6), size + 6
    image = QtGui.QImage(width, height, QtGui.QImage.Format_RGBA8888)
    image.fill(QtCore.Qt.transparent)
    painter = QtGui.QPainter(image)
    painter.setRenderHint(QtGui.QPainter.Antialiasing)
    painter.setBrush(QtGui.QColor(255, 255, 255, 235))
    painter.setPen(QtGui.QColor(25, 30, 40))
    painter.drawRoundedRect(0, 0, width - 1, height - 1, 5, 5)
    painter.setFont(font)
    painter.drawText(image.rect(), plain(QtCore.Qt.AlignCenter), text)
    painter.end()
    return image.mirrored(False, True)  # pictures of the 3D view begin at the bottom


CARDS = 500  # of words that are kept: those of several boats


@functools.lru_cache(maxsize=CARDS)
def _card(text, size):
    image = _painted(text, size)
    shown = coin.SoImage()
    shown.horAlignment = coin.SoImage.CENTER
    shown.vertAlignment = coin.SoImage.HALF
    shown.image.setValue(coin.SbVec2s(image.width(), image.height()), 4,
                         bytes(image.constBits())[:4 * image.width() * image.height()])
    return shown


def words(at, text, size=13):
    """Words on a card that faces the eye, their middle at a point."""
    separator = unpickable()
    place = coin.SoTranslation()
    place.translation = tuple(float(x) for x in at)
    for node in (_light(False), place, _card(text, size)):
        separator.addChild(node)
    return separator
