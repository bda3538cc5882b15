-- the same picture, at another place or of another coach
CREATE INDEX photo_original ON photo (original);
CREATE INDEX photo_travel ON photo (travel);
