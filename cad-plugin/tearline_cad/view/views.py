"""View providers of what a repair makes: plies, outlines, templates."""
from pivy import coin

from tearline_cad.view.icons import icon


class Stateless:
    """A view provider that keeps nothing in the file."""

    def dumps(self):
        return None

    def loads(self, state):
        return None

    __getstate__, __setstate__ = dumps, loads


class ClothView(Stateless):
    """Plies and outlines on the hull; redraw.py fills `node`."""

    def __init__(self, vobj):
        vobj.Proxy = self

    def attach(self, vobj):
        self.node = coin.SoSeparator()
        vobj.addDisplayMode(self.node, "Cloth")

    def getDisplayModes(self, vobj):
        return ["Cloth"]

    def getDefaultDisplayMode(self):
        return "Cloth"

    def setDisplayMode(self, mode):
        return mode

    def show(self, nodes):
        """Replaces what is drawn."""
        self.node.removeAllChildren()
        for node in nodes:
            self.node.addChild(node)

    def getIcon(self):
        return icon("ply")


class TemplateView(Stateless):
    """Flat templates: wires, with words in their middle."""

    def __init__(self, vobj):
        vobj.Proxy = self

    def attach(self, vobj):
        self.words = coin.SoSeparator()
        self.switch = coin.SoSwitch()
        self.switch.addChild(self.words)
        self.switch.whichChild = coin.SO_SWITCH_ALL if vobj.Visibility else coin.SO_SWITCH_NONE
        vobj.RootNode.addChild(self.switch)

    def onChanged(self, vobj, prop):
        if prop == "Visibility" and hasattr(self, "switch"):
            self.switch.whichChild = (coin.SO_SWITCH_ALL if vobj.Visibility
                                      else coin.SO_SWITCH_NONE)

    def show(self, nodes):
        self.words.removeAllChildren()
        for node in nodes:
            self.words.addChild(node)

    def getIcon(self):
        return icon("templates")
